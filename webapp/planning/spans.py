"""The clocks that the journal tells of: who had his hands on what, from when until when.

A clock belongs to one person and one thing: an operation, a build as a whole, or a kind of shop time. Starting it while
it runs changes nothing but shows that its owner is there. It stops when he pauses (an entry without a maker pauses
everybody's), or for all who are at it when the operation is done or abandoned. Time filled in afterwards is a span of
its own, marked remembered: it says how long, and when only roughly.

Two clocks of one person may run at once here, as the journal has it. `labour.py` sees to it that they are not counted
twice.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from webapp.planning.entry import BEGINS, Entry

ENDS_FOR_ALL = ("done", "abandoned")


@dataclass(frozen=True)
class Span:
    """One stretch of a person's clock, or of time remembered; `end` is None while the clock runs.

    `alive` is when its owner last said that he was at it; `began` and `ended` are the entries that say so.
    """

    maker: int | None
    operation: int | None
    build: int | None
    shop_time: str | None
    start: datetime
    end: datetime | None
    alive: datetime
    began: Entry
    ended: Entry | None = None
    remembered: bool = False
    day: date | None = None

    def until(self, now: datetime) -> datetime:
        """Return when the span ends, as far as is known now; never before it starts.

        Takes:   the present instant. Returns: its end, or now while it runs. Raises: nothing. Source: shop rule.

        >>> from webapp.planning.entry import utc
        >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
        >>> worked_spans([Entry("a", nine, nine, "started", maker=1, operation=7)], ten)[0].until(ten) == ten
        True
        """
        return max(self.start, now) if self.end is None else self.end

    @property
    def at(self) -> tuple[int | None, int | None, str | None]:
        """What the clock is for: operation, or build, or kind of shop time."""
        return self.operation, None if self.operation is not None else self.build, self.shop_time


def by_now(standing: Iterable[Entry], now: datetime) -> tuple[Entry, ...]:
    """Return the entries with none later than now: a phone whose clock runs ahead did it now.

    Takes:   entries as `effective` gives them; the present instant.
    Returns: the same entries in the same order. `reached` keeps its time: it may say "not before then".
    Raises:  nothing.
    Source:  shop rule.

    >>> from webapp.planning.entry import utc
    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> by_now([Entry("a", ten, nine, "started", operation=7)], nine)[0].at == nine
    True
    """
    return tuple(replace(e, at=now) if e.at > now and e.kind != "reached" else e for e in standing)


def worked_spans(standing: Iterable[Entry], now: datetime) -> tuple[Span, ...]:
    """Return every stretch that somebody worked.

    Takes:   entries as `effective` gives them, of one operation or of the whole shop; the present instant.
    Returns: spans by start, those of the same start as their first entries arrived.
    Raises:  nothing.
    Source:  shop rule.

    >>> from webapp.planning.entry import utc
    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> begun = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> [(s.maker, s.end == ten) for s in worked_spans([begun, Entry("b", ten, ten, "done", operation=7)], ten)]
    [(1, True)]
    """
    running: list[Span] = []
    over: list[Span] = []
    for entry in by_now(standing, now):
        if entry.kind in BEGINS:
            running = _begun(entry, running)
        else:
            over += [replace(span, end=entry.at, ended=entry) for span in running if _stops(entry, span)]
            running = [span for span in running if not _stops(entry, span)]
        over += _remembered(entry)
    return tuple(sorted([*over, *running], key=lambda span: (span.start, span.began.arrived, span.began.id)))


def _begun(entry: Entry, running: list[Span]) -> list[Span]:
    new = _span(entry, entry.at, None)
    for i, span in enumerate(running):
        if (span.maker, span.at) == (new.maker, new.at):
            return [*running[:i], replace(span, alive=entry.at), *running[i + 1 :]]
    return [*running, new]


def _span(entry: Entry, start: datetime, end: datetime | None) -> Span:
    shop_time = entry.word("shop_time") if entry.operation is None else None
    return Span(entry.maker, entry.operation, entry.build, shop_time, start, end, entry.at, entry)


def _stops(entry: Entry, span: Span) -> bool:
    if entry.operation is not None:
        if span.operation != entry.operation:
            return False
        return entry.kind in ENDS_FOR_ALL or (entry.kind == "paused" and entry.maker in (None, span.maker))
    if entry.kind not in (*ENDS_FOR_ALL, "paused") or entry.maker not in (None, span.maker):
        return False
    label = entry.word("shop_time")
    return span.operation is None and span.build == entry.build and label in (None, span.shop_time)


def _remembered(entry: Entry) -> list[Span]:
    minutes = entry.number("minutes") if entry.kind in ("worked", "done") else None
    if minutes is None:
        return []
    span = _span(entry, entry.at - timedelta(minutes=minutes), entry.at)
    return [replace(span, ended=entry, remembered=True, day=_day(entry))]


def _day(entry: Entry) -> date | None:
    text = entry.word("day")
    return None if text is None else date.fromisoformat(text)
