"""The state of an operation, folded from its journal.

The record alone says what was begun, worked, paused, ended, tested and answered for. It does not know how long a wait
takes, so two words of the screen are not decided here: *ready* (nothing holds it any more) is the plan's, and *waiting*
is said only where the record has an open question: a stage in `asks` (those whose end somebody has to judge) that has
not been answered, or a test whose last answer was tacky or wet. A wait's end asks; only an answer ends it.

How the entries fold, in the order in which they happened:

- the operation *started* with its first clock, remembered time, tight clamps or done, whichever is earliest;
- *done* ends the hands-on work for everybody; a second one changes nothing. Abandoned likewise. Starting a clock again
  opens the operation again, after abandoning without the clamps of before;
- *clamped* begins the wait, the last one counting; without one the wait begins when the work was done. The figures it
  begins with are those named by the entry that began it;
- a stage is *reached* when it was first said or tested dry; tacky or wet after that takes it back;
- of answers given twice to the same flag, and of counts, the last stands. Of tending the first stands.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from enum import StrEnum

from webapp.planning.corrections import effective
from webapp.planning.entry import BEGINS, WITHDRAWN, Entry, utc
from webapp.planning.spans import Span, by_now, worked_spans

MINUTE = timedelta(minutes=1)


class State(StrEnum):
    NOT_STARTED = "not started"
    IN_HAND = "in hand"
    PAUSED = "paused"
    WAITING = "waiting"
    DONE = "done"
    ABANDONED = "abandoned"


@dataclass(frozen=True)
class DryTest:
    """One look at a finish or a glue line: dry, tacky or wet, and when to look again."""

    stage: str
    answer: str
    at: datetime
    again_at: datetime | None
    maker: int | None
    entry: str


@dataclass(frozen=True)
class OperationState:
    """What the record says of one operation as of an instant; instants in UTC.

    `worked_minutes` is everybody's minutes added, cut to the minute, running clocks until `as_of`. It is what the
    clocks say; hours that are charged, with overlaps and forgotten clocks seen to, come from `labour.py`.
    """

    as_of: datetime
    state: State = State.NOT_STARTED
    started: datetime | None = None
    finished: datetime | None = None
    abandoned_at: datetime | None = None
    spans: tuple[Span, ...] = ()
    worked_minutes: int = 0
    wait_began: datetime | None = None
    figures: int | None = None
    reached: Mapping[str, datetime] = field(default_factory=dict)
    tests: tuple[DryTest, ...] = ()
    look_again: Mapping[str, datetime] = field(default_factory=dict)
    done_count: int = 0
    overruled: Mapping[str, str] = field(default_factory=dict)
    tended: Mapping[str, datetime] = field(default_factory=dict)

    @property
    def waits_from(self) -> datetime | None:
        """When its waits began: the clamps were tight, or else the hands-on work was done."""
        return self.finished if self.wait_began is None else self.wait_began

    @property
    def at_it(self) -> tuple[int | None, ...]:
        """The makers whose clocks run."""
        return tuple(span.maker for span in self.spans if span.end is None)

    def as_document_fields(self, makers: int = 1, worked_minutes: int | None = None) -> dict[str, object]:
        """Return the record's keys of an operation in a shop document, ready for JSON.

        Takes:   how many makers the operation is planned with: their minutes count side by side there; the minutes to
                 go by where the clocks are not to be believed (from the hours report), else this state's own.
        Returns: started, paused, finished, abandoned, worked_minutes, wait_began, reached, done and overruled. A stage
                 that was tacky or wet is "not before" the time to look again, or the next minute where that is over.
        Raises:  nothing.
        Source:  the shop document, an operation's keys.

        >>> state = fold_operation([], utc("2026-02-02T09:00Z"))
        >>> state.as_document_fields()["started"] is None
        True
        """
        minutes = self.worked_minutes if worked_minutes is None else worked_minutes
        next_minute = self.as_of.replace(second=0, microsecond=0) + 2 * MINUTE
        not_before = {stage: max(again, next_minute) for stage, again in self.look_again.items()}
        return {
            "started": _iso(self.started),
            "paused": self.state is State.PAUSED,
            "finished": _iso(self.finished),
            "abandoned": _iso(self.abandoned_at),
            "worked_minutes": minutes // makers,
            "wait_began": _iso(self.wait_began),
            "reached": {stage: at.isoformat() for stage, at in sorted({**self.reached, **not_before}.items())},
            "done": self.done_count,
            "overruled": sorted(self.overruled),
        }


def fold_operation(entries: Iterable[Entry], now: datetime, asks: Collection[str] = ()) -> OperationState:
    """Return what the journal says of one operation.

    Takes:   the operation's entries, in any order, corrections included; the present instant; the stages of its wait
             whose end is asked about.
    Returns: the state as of now; the same for any order of the entries and for any copies among them.
    Raises:  RecordError when now has no zone.
    Source:  shop rule.

    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> state = fold_operation([Entry("a", nine, nine, "started", maker=1, operation=7)], ten)
    >>> state.state.value, state.worked_minutes
    ('in hand', 60)
    """
    return _folded(effective(entries), utc(now, "now"), asks)


def fold_operations(
    entries: Iterable[Entry], now: datetime, asks: Mapping[int, Collection[str]] | None = None
) -> dict[int, OperationState]:
    """Return what the journal says of each operation it names.

    Takes:   entries of any operations; the present instant; the stages asked about, by operation.
    Returns: states by operation. An entry that a correction moved to another operation counts there.
    Raises:  RecordError when now has no zone.
    Source:  shop rule.

    >>> nine = utc("2026-02-02T09:00Z")
    >>> list(fold_operations([Entry("a", nine, nine, "started", maker=1, operation=7)], nine))
    [7]
    """
    moment = utc(now, "now")
    of: dict[int, list[Entry]] = defaultdict(list)
    for entry in effective(entries):
        if entry.operation is not None:
            of[entry.operation].append(entry)
    return {key: _folded(own, moment, (asks or {}).get(key, ())) for key, own in of.items()}


def as_of(state: OperationState, now: datetime) -> OperationState:
    """Return a state as it is later on, where nothing happened since: only running clocks go on.

    Takes:   a state of which no entry was later than the instant it is as of; the present instant.
    Returns: what folding the same entries again would say; the very same where nothing of it hangs on the instant.
    Raises:  nothing.
    Source:  shop rule.

    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> as_of(fold_operation([Entry("a", nine, nine, "started", maker=1, operation=7)], nine), ten).worked_minutes
    60
    """
    if state.state is not State.IN_HAND:
        return replace(state, as_of=now) if state.look_again else state
    return replace(state, as_of=now, worked_minutes=_minutes(state.spans, now))


@dataclass
class _Draft:
    finished: datetime | None = None
    abandoned: datetime | None = None
    clamped: datetime | None = None
    figures_clamped: int | None = None
    figures_done: int | None = None
    done_count: int = 0
    begun: list[datetime] = field(default_factory=list)
    reached: dict[str, datetime] = field(default_factory=dict)
    tests: list[DryTest] = field(default_factory=list)
    again: dict[str, datetime] = field(default_factory=dict)
    overruled: dict[str, str] = field(default_factory=dict)
    tended: dict[str, datetime] = field(default_factory=dict)


def _folded(standing: Iterable[Entry], now: datetime, asks: Collection[str]) -> OperationState:
    entries = by_now(standing, now)
    draft = _Draft()
    for entry in entries:
        if entry.kind in _FOLDS:
            _FOLDS[entry.kind](draft, entry)
    spans = worked_spans(entries, now)
    started = min([*draft.begun, *(span.start for span in spans)], default=None)
    return OperationState(
        as_of=now,
        state=_state(draft, spans, started, asks),
        started=started,
        finished=draft.finished,
        abandoned_at=draft.abandoned,
        spans=spans,
        worked_minutes=_minutes(spans, now),
        wait_began=draft.clamped,
        figures=draft.figures_done if draft.figures_clamped is None else draft.figures_clamped,
        reached=draft.reached,
        tests=tuple(draft.tests),
        look_again=draft.again,
        done_count=draft.done_count,
        overruled=draft.overruled,
        tended=draft.tended,
    )


def _minutes(spans: Iterable[Span], now: datetime) -> int:
    return sum((span.until(now) - span.start for span in spans), timedelta()) // MINUTE


def _state(draft: _Draft, spans: Iterable[Span], started: datetime | None, asks: Collection[str]) -> State:
    if draft.abandoned is not None:
        return State.ABANDONED
    if any(span.end is None for span in spans):
        return State.IN_HAND
    if draft.finished is not None:
        asked = draft.again or any(stage not in draft.reached for stage in asks)
        return State.WAITING if asked else State.DONE
    return State.NOT_STARTED if started is None else State.PAUSED


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()


def _begin(draft: _Draft, entry: Entry) -> None:
    draft.begun.append(entry.at)
    if draft.abandoned is not None:
        draft.clamped = draft.figures_clamped = None
    draft.finished = draft.abandoned = draft.figures_done = None


def _done(draft: _Draft, entry: Entry) -> None:
    draft.begun.append(entry.at)
    if draft.finished is None and draft.abandoned is None:
        draft.finished, draft.figures_done = entry.at, entry.number("figures")


def _abandon(draft: _Draft, entry: Entry) -> None:
    draft.begun.append(entry.at)
    if draft.abandoned is None:
        draft.abandoned = entry.at


def _clamp(draft: _Draft, entry: Entry) -> None:
    draft.begun.append(entry.at)
    draft.clamped, draft.figures_clamped = entry.at, entry.number("figures")


def _reach(draft: _Draft, entry: Entry) -> None:
    stage = str(entry.word("stage"))
    draft.reached.setdefault(stage, entry.at)
    draft.again.pop(stage, None)


def _test(draft: _Draft, entry: Entry) -> None:
    stage, answer = str(entry.word("stage")), str(entry.word("answer"))
    again = None if answer == "dry" else utc(entry.data["again_at"])
    draft.tests.append(DryTest(stage, answer, entry.at, again, entry.maker, entry.id))
    if again is None:
        _reach(draft, entry)
    else:
        draft.reached.pop(stage, None)
        draft.again[stage] = again


def _count(draft: _Draft, entry: Entry) -> None:
    draft.done_count = entry.number("done") or 0


def _overrule(draft: _Draft, entry: Entry) -> None:
    draft.overruled[str(entry.word("flag"))] = str(entry.word("reason"))


def _tend(draft: _Draft, entry: Entry) -> None:
    draft.tended.setdefault(str(entry.word("key")), entry.at)


_FOLDS: Mapping[str, Callable[[_Draft, Entry], None]] = {
    **dict.fromkeys(BEGINS, _begin),
    "done": _done,
    "abandoned": _abandon,
    "clamped": _clamp,
    "reached": _reach,
    "dry-tested": _test,
    "counted": _count,
    "overruled": _overrule,
    "tended": _tend,
}

FOLDED = (*_FOLDS, "paused", "worked", WITHDRAWN)  # the kinds that say anything about where an operation stands
