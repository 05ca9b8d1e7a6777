"""A run of open intervals, laid day by day as far as somebody looks.

An interval is [open, close) in minutes since 1970 UTC. Those that touch are one, over midnight too, so an interval may
still grow while the day after it is not laid: whoever needs its closing says how far he needs to see, since a shop that
never shuts has no end. Nothing is laid further than HORIZON ahead of the first look; what lies beyond is "never".
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from datetime import date, tzinfo

from webapp.planning.instants import DAY, WEEK, local, moment
from webapp.planning.planned import Span

HORIZON = 3660  # days

Pieces = Callable[[date], Sequence[Span]]


class Openings:
    """The open intervals of one set of rules; `pieces` gives those of a local day."""

    def __init__(self, pieces: Pieces, zone: tzinfo) -> None:
        self._pieces, self._zone = pieces, zone
        self._first = self._next = self._limit = 0
        self._start = self._frontier = 0  # the first and the last instant laid
        self._near = 0  # what lies before this needs nothing more laid
        self._opens: list[int] = []
        self._closes: list[int] = []

    def find(self, instant: int) -> int | None:
        """The number of the first interval that closes after an instant; None where the shop never opens again."""
        if not self._start <= instant < self._near:
            self._reach(instant)
        index = bisect_right(self._closes, instant)
        while index == len(self._opens):
            if not self._lay():
                return None
        return index

    def open(self, index: int) -> int:
        """When an interval opens."""
        return self._opens[index]

    def close(self, index: int, needed: int) -> int:
        """When an interval closes, or some instant from `needed` on to which it is known to be open."""
        while self._grows(index) and self._closes[index] < needed and self._lay():
            pass
        return self._closes[index]

    def has(self, index: int) -> bool:
        """Whether there is an interval of this number."""
        while index >= len(self._opens):
            if not self._lay():
                return False
        return True

    def closing(self, instant: int) -> int | None:
        """When the interval that is open at an instant, or else the next, closes."""
        index = self.find(instant)
        if index is None:
            return None
        while self._grows(index) and self._lay():
            pass
        return self._closes[index]

    def next_open(self, instant: int) -> int | None:
        """The first open minute from an instant on."""
        index = self.find(instant)
        return None if index is None else max(instant, self._opens[index])

    def is_open(self, instant: int) -> bool:
        """Whether a minute lies in the hours."""
        return self.next_open(instant) == instant

    def last_before(self, instant: int) -> int | None:
        """The last open minute before an instant, looking back no further than the first look."""
        self._reach(instant - 1)
        index = bisect_left(self._opens, instant) - 1
        return None if index < 0 else min(self.close(index, instant), instant) - 1

    def between(self, start: int, end: int) -> Iterator[Span]:
        """The open intervals inside a span, cut at its ends."""
        index = self.find(start)
        while index is not None and self._has_by(index, end):
            yield max(start, self._opens[index]), min(end, self.close(index, end))
            index += 1

    def minutes(self, start: int, end: int) -> int:
        """How many open minutes lie in a span."""
        return sum(close - open_ for open_, close in self.between(start, end))

    def run(self, start: int, minutes: int) -> tuple[Span, ...] | None:
        """The next so many open minutes from an instant on, one span for each opening."""
        index = self.find(start)
        if index is None:
            return None
        spans = []
        while minutes > 0:
            if not self.has(index):
                return None
            begin = max(start, self._opens[index])
            end = min(self.close(index, begin + minutes), begin + minutes)
            spans.append((begin, end))
            minutes -= end - begin
            index += 1
        return tuple(spans)

    def run_back(self, end: int, minutes: int) -> tuple[Span, ...] | None:
        """The last so many open minutes before an instant, in order of time; None where there are not so many."""
        self._reach(end)
        index = bisect_left(self._opens, end) - 1
        spans: list[Span] = []
        while minutes > 0 and index >= 0:
            stop = min(self.close(index, end), end)
            begin = max(self._opens[index], stop - minutes)
            spans.append((begin, stop))
            minutes -= stop - begin
            index -= 1
        return tuple(reversed(spans)) if minutes <= 0 else None

    def begin_split(self, start: int, minutes: int, least: int) -> int | None:
        """The first minute in which work that may pause at closing can begin: `least` is left, or it ends by then."""
        wanted = min(minutes, least)
        index = self.find(start)
        while index is not None and self.has(index):
            begin = max(start, self._opens[index])
            if self.close(index, begin + wanted) - begin >= wanted:
                return begin
            index += 1
        return None

    def begin_whole(self, start: int, minutes: int) -> int | None:
        """The first minute in which work of one piece can begin; None where no opening of the next 7 days is so long.

        The 7 days count from the start, or where the shop stays shut for longer, from when it opens.
        """
        index = self.find(start)
        if index is None:
            return None
        last = self._week_from(start, index)
        while self.has(index) and self._opens[index] < last:
            begin = max(start, self._opens[index])
            if self.close(index, begin + minutes) - begin >= minutes:
                return begin
            index += 1
        return None

    def fits(self, start: int, minutes: int) -> int | None:
        """The first open minute from an instant on, where so much fits before that interval closes: the usual case."""
        index = self.find(start)
        if index is None:
            return None
        opens = self._opens[index]
        begin = start if start > opens else opens
        return begin if self._closes[index] - begin >= minutes else None

    def last_begin(self, by: int, minutes: int) -> int | None:
        """The last minute up to an instant in which work of one piece can begin, back to the first look at most."""
        self._reach(by)
        index = bisect_right(self._opens, by) - 1
        while index >= 0:
            begin = min(by, self.close(index, by + minutes) - minutes)
            if begin >= self._opens[index]:
                return begin
            index -= 1
        return None

    def last_begin_split(self, by: int, minutes: int, least: int) -> int | None:
        """The last minute up to an instant in which work that may pause at closing can begin, as `begin_split`."""
        return self.last_begin(by, max(min(minutes, least), 1))

    def longest(self, start: int) -> Span | None:
        """The longest interval that begins in the 7 days from an instant, the first of equals."""
        index = self.find(start)
        if index is None:
            return None
        if self._opens[index] < start:
            index += 1
        if not self.has(index):
            return None
        last = self._week_from(start, index)
        best: Span | None = None
        while self.has(index) and self._opens[index] < last:
            span = self._opens[index], self.close(index, self._opens[index] + WEEK)
            if best is None or span[1] - span[0] > best[1] - best[0]:
                best = span
            index += 1
        return best

    def _week_from(self, start: int, index: int) -> int:
        """The end of the 7 days from an instant, or from the opening of an interval that comes later than these."""
        opens = self._opens[index]
        return (start if opens < start + WEEK else opens) + WEEK

    def _has_by(self, index: int, end: int) -> bool:
        """Whether an interval of this number opens before an instant; one that never shuts has no next one."""
        while index >= len(self._opens):
            if self._frontier >= end or not self._lay():
                return False
        return self._opens[index] < end

    def _grows(self, index: int) -> bool:
        return index == len(self._opens) - 1 and self._closes[index] >= self._frontier

    def _reach(self, instant: int) -> None:
        """Lay from the day before an instant on; all again where that is earlier than the first look."""
        if self._start <= instant < self._near:
            return
        day = moment(instant, self._zone).date().toordinal()
        if self._first == 0 or day <= self._first:
            self._first = self._next = day - 1
            self._limit = day + HORIZON
            self._start = local(date.fromordinal(day), 0, self._zone)
            self._opens, self._closes = [], []
        while self._next <= day + 1 and self._lay():
            pass

    def _lay(self) -> bool:
        """Lay one more day; false where the horizon is reached."""
        if self._next > self._limit:
            return False
        day = date.fromordinal(self._next)
        for start, end in sorted(self._pieces(day)):
            self._join(start, end)
        self._next += 1
        self._frontier = local(date.fromordinal(self._next), 0, self._zone)
        self._near = self._frontier - 2 * DAY
        return True

    def _join(self, start: int, end: int) -> None:
        if self._closes and start <= self._closes[-1]:
            self._closes[-1] = max(self._closes[-1], end)
        elif end > start:
            self._opens.append(start)
            self._closes.append(end)
