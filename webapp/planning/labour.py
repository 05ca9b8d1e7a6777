"""One person, one labour clock: what may be booked of the clocks that the journal tells of.

Two faults are seen to. Where a person's clocks overlap, each minute goes to the clock that was started last, since that
is what he turned to; so nobody's day is longer than it was. And a clock that ran past closing is asked about ("stopped
when?"): until that is answered, nothing after the closing is booked, and what is booked of it is marked `asked`.

The closing that counts is the first one after the clock's owner last said he was at it, on the same local day or soon
after it (a late shift). Where there is none, as on a shut day or of an evening, it is midnight: no night is booked
unasked. A clock stopped by hand within OVERTIME of the closing is believed; so is one whose end was asked for or
corrected.

Time filled in afterwards is believed as it was written. Waits are no labour and do not come in here.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from webapp.planning.corrections import effective
from webapp.planning.entry import Entry, RecordError, utc
from webapp.planning.spans import Span, worked_spans
from webapp.planning.stretches import Stretch, shared

OVERTIME = timedelta(hours=2)  # common practice, no source
LATE_SHIFT = timedelta(hours=6)  # common practice, no source


@dataclass(frozen=True)
class Overlap:
    """Two clocks of one person that ran at once, and when; booked on the second, which was started later."""

    maker: int | None
    first: Span
    second: Span
    start: datetime
    end: datetime


@dataclass(frozen=True)
class Question:
    """A clock to ask about, "stopped when?": the closing it ran past, and how long it has run."""

    span: Span
    closing: datetime
    ran: timedelta


@dataclass(frozen=True)
class Labour:
    """A shop's labour: the clocks as they ran, what is booked of them, and what is odd about them."""

    spans: tuple[Span, ...]
    stretches: tuple[Stretch, ...]
    overlaps: tuple[Overlap, ...]
    questions: tuple[Question, ...]


def labour(entries: Iterable[Entry], now: datetime, closings: Iterable[datetime], zone: ZoneInfo) -> Labour:
    """Return the labour of everybody in the journal.

    Takes:   entries in any order, of all that these people did (one operation's alone cannot show an overlap); the
             present instant; the closings of the shop's days, not of its breaks; the shop's zone.
    Returns: spans, stretches by person and time, overlaps and questions.
    Raises:  RecordError for a moment without a zone.
    Source:  shop rule.

    >>> nine, noon = utc("2026-02-02T09:00Z"), utc("2026-02-02T12:00Z")
    >>> begun = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> [(s.operation, s.end - s.start) for s in labour([begun], noon, [], ZoneInfo("UTC")).stretches]
    [(7, datetime.timedelta(seconds=10800))]
    """
    moment = utc(now, "now")
    spans = worked_spans(effective(entries), moment)
    questions = forgotten(spans, closings, moment, zone)
    return Labour(spans, booked(spans, moment, questions), overlaps(spans, moment, questions), questions)


def forgotten(
    spans: Iterable[Span], closings: Iterable[datetime], now: datetime, zone: ZoneInfo
) -> tuple[Question, ...]:
    """Return the clocks to ask about: those that ran past closing.

    Takes:   spans; the closings of the shop's days; the present instant; the shop's zone.
    Returns: questions in the order of the spans. Running clocks are asked about as soon as it is past closing.
    Raises:  RecordError for a moment without a zone.
    Source:  shop rule.

    >>> nine, closing, next_day = (utc(f"2026-02-0{day}Z") for day in ("2T09:00", "2T17:00", "3T08:00"))
    >>> begun = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> [str(q.ran) for q in forgotten(worked_spans([begun], next_day), [closing], next_day, ZoneInfo("UTC"))]
    ['23:00:00']
    """
    moment = utc(now, "now")
    ordered = sorted(utc(closing, "a closing") for closing in closings)
    questions = []
    for span in filter(may_be_forgotten, spans):
        closing = _closing(span.alive, ordered, zone)
        if _ran_past(span, closing, moment):
            questions.append(Question(span, closing, span.until(moment) - span.start))
    return tuple(questions)


def may_be_forgotten(span: Span) -> bool:
    """Return whether a clock has to be held against the closing of its day.

    Takes:   a span. Returns: false for remembered time, for a clock whose end was asked for or corrected, and for one
             that was stopped so soon that no closing can lie far enough before it.
    Raises:  nothing.
    Source:  shop rule.

    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> entries = [Entry("a", nine, nine, "started", operation=7), Entry("b", ten, ten, "done", operation=7)]
    >>> may_be_forgotten(worked_spans(entries[:1], ten)[0]), may_be_forgotten(worked_spans(entries, ten)[0])
    (True, False)
    """
    if span.remembered:
        return False
    if span.end is None or span.ended is None:
        return True
    answered = span.ended.corrects is not None or span.ended.data.get("answered") is True
    return not answered and span.end > span.alive + OVERTIME


def answer(question: Question, new_id: str, stopped: datetime, *, arrived: datetime) -> Entry:
    """Return the entry that says when a forgotten clock really stopped.

    Takes:   the question; the new entry's id; when the clock's owner stopped; when the answer arrives.
    Returns: a `paused` entry at that time, or where the clock has an end already, a correction of that one.
    Raises:  RecordError when he would have stopped before he started, or later than the answer.
    Source:  shop rule.

    >>> nine, four, next_day = (utc(f"2026-02-0{day}Z") for day in ("2T09:00", "2T16:00", "3T08:00"))
    >>> begun = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> asked = forgotten(worked_spans([begun], next_day), [], next_day, ZoneInfo("UTC"))[0]
    >>> mended = [begun, answer(asked, "b", four, arrived=next_day)]
    >>> [str(span.until(next_day) - span.start) for span in worked_spans(effective(mended), next_day)]
    ['7:00:00']
    """
    span, at = question.span, utc(stopped, "the time it stopped")
    if at < span.start:
        raise RecordError("it cannot have stopped before it was started: give a later time")
    if at > utc(arrived, "the time it arrived"):
        raise RecordError("that time is still to come: give an earlier one")
    if span.ended is not None:
        data = {**span.ended.data, "answered": True}
        return replace(span.ended, id=new_id, at=at, arrived=arrived, data=data, corrects=span.ended.id)
    return replace(_pause(span, new_id, at, arrived), data={**_label(span), "answered": True})


def pauses(begun: Entry, spans: Iterable[Span]) -> tuple[Entry, ...]:
    """Return the entries that stop a person's other clocks when he turns to something new.

    Takes:   the entry that starts the new clock; the spans so far.
    Returns: a `paused` entry for each other running clock of that person. Their ids follow from the ids of the entries
             that began the clocks, so the same start sent twice pauses once.
    Raises:  nothing.
    Source:  shop rule. Each operation gets its own entry, so that an operation's journal tells all about it.

    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> first = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> second = Entry("b", ten, ten, "started", maker=1, operation=8)
    >>> [(e.id, e.kind, e.operation) for e in pauses(second, worked_spans([first], ten))]
    [('b.pauses.a', 'paused', 7)]
    """
    new = [span.at for span in worked_spans([begun], begun.at)]
    others = (s for s in spans if s.end is None and s.maker == begun.maker and s.at not in new and s.start <= begun.at)
    return tuple(_pause(s, f"{begun.id}.pauses.{s.began.id}", begun.at, begun.arrived) for s in others)


def booked(spans: Iterable[Span], now: datetime, questions: Iterable[Question] = ()) -> tuple[Stretch, ...]:
    """Return the time that counts, none of it twice.

    Takes:   spans; the present instant; the open questions from `forgotten`.
    Returns: stretches by person and start. One person's do not overlap, but for remembered ones, which are whole.
    Raises:  RecordError when now has no zone.
    Source:  shop rule: overlapping minutes go to the clock that was started last.

    >>> nine, ten, noon = (utc(f"2026-02-02T{hour}Z") for hour in ("09:00", "10:00", "12:00"))
    >>> both = [Entry(str(n), at, at, "started", maker=1, operation=n) for n, at in ((7, nine), (8, ten))]
    >>> [(s.operation, s.start.hour, s.end.hour) for s in booked(worked_spans(both, noon), noon)]
    [(7, 9, 10), (8, 10, 12)]
    """
    clocks: dict[int | None, list[Stretch]] = defaultdict(list)
    out = []
    for span, end in _cut(spans, utc(now, "now"), questions):
        stretch = _stretch(span, end, asked=end < span.until(now))
        if span.remembered:
            out.append(stretch)
        else:
            clocks[span.maker].append(stretch)
    for own in clocks.values():
        out += shared(own)
    return tuple(sorted(out, key=lambda s: (s.maker is None, s.maker or 0, s.start, s.remembered)))


def overlaps(spans: Iterable[Span], now: datetime, questions: Iterable[Question] = ()) -> tuple[Overlap, ...]:
    """Return where a person's clocks ran at once.

    Takes:   spans; the present instant; the open questions from `forgotten`: a clock counts to its closing only.
    Returns: one for each pair of clocks and stretch, by start of the second clock. Remembered time is no clock.
    Raises:  RecordError when now has no zone.
    Source:  shop rule.

    >>> nine, ten, noon = (utc(f"2026-02-02T{hour}Z") for hour in ("09:00", "10:00", "12:00"))
    >>> both = [Entry(str(n), at, at, "started", maker=1, operation=n) for n, at in ((7, nine), (8, ten))]
    >>> [(o.first.operation, o.second.operation, o.start.hour, o.end.hour)
    ...  for o in overlaps(worked_spans(both, noon), noon)]
    [(7, 8, 10, 12)]
    """
    found = []
    earlier: dict[int | None, list[tuple[Span, datetime]]] = defaultdict(list)
    for span, end in _cut(spans, utc(now, "now"), questions):
        if span.remembered or end <= span.start:
            continue
        still = [(first, until) for first, until in earlier[span.maker] if until > span.start]
        found += [Overlap(span.maker, first, span, span.start, min(until, end)) for first, until in still]
        earlier[span.maker] = [*still, (span, end)]
    return tuple(found)


def midnight_after(moment: datetime, zone: ZoneInfo) -> datetime:
    """Return when the local day of a moment is over.

    Takes:   an aware datetime; the zone. Returns: an instant in UTC. Raises: RecordError without a zone.
    Source:  the zone data; of a midnight that comes twice, the first one that is still to come.

    >>> midnight_after(utc("2026-03-08T06:00Z"), ZoneInfo("America/New_York")).isoformat()
    '2026-03-09T04:00:00+00:00'
    """
    at = utc(moment)
    day = at.astimezone(zone).date() + timedelta(days=1)
    first, second = (utc(datetime(day.year, day.month, day.day, tzinfo=zone, fold=fold)) for fold in (0, 1))
    return first if first > at else second


def _closing(alive: datetime, ordered: Sequence[datetime], zone: ZoneInfo) -> datetime:
    midnight = midnight_after(alive, zone)
    i = bisect_right(ordered, alive)
    if i < len(ordered) and (ordered[i] <= midnight or ordered[i] - alive <= LATE_SHIFT):
        return ordered[i]
    return midnight


def _ran_past(span: Span, closing: datetime, now: datetime) -> bool:
    if span.end is None or span.ended is None:
        return now > closing
    return span.end > closing + OVERTIME


def _cut(spans: Iterable[Span], now: datetime, questions: Iterable[Question]) -> list[tuple[Span, datetime]]:
    limits: Mapping[Span, datetime] = {question.span: question.closing for question in questions}
    cut = [(span, min(span.until(now), limits.get(span, span.until(now)))) for span in spans]
    return sorted(cut, key=lambda part: (part[0].start, part[0].began.arrived, part[0].began.id))


def _stretch(span: Span, end: datetime, *, asked: bool) -> Stretch:
    return Stretch(
        span.maker, span.operation, span.build, span.shop_time, span.start, end, span.remembered, asked, span.day
    )


def _label(span: Span) -> dict[str, object]:
    return {} if span.shop_time is None else {"shop_time": span.shop_time}


def _pause(span: Span, new_id: str, at: datetime, arrived: datetime) -> Entry:
    return Entry(new_id, at, arrived, "paused", span.maker, span.operation, span.build, _label(span))
