"""Who is free how late: the time of people, asked from behind.

The mirror of `roster.py`. A block of a person's time stays in the way of work for every end back to the begin of that
block, so that is the next end worth trying; a block that begins as he comes in is kept as lasting from when he was in
before, so that full days become one block.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from webapp.planning.hours import Hours
from webapp.planning.mixes import first_of_each
from webapp.planning.openings import Openings
from webapp.planning.planned import Span
from webapp.planning.roster import Slot, Wanted
from webapp.trade.air.readings import NEVER

Mark = tuple[list[list[Any]], list[list[Any]]]
Check = Callable[[Sequence[Span]], int | None]


class Diary:
    """What people are given so far.

    Takes:   the hours of a shop, that nobody else has looked into; the instant before which nothing is sought.
    Returns: a diary with nothing in it.
    Raises:  nothing.
    Source:  the shop document, rule 1.

    >>> from webapp.planning.network import Opening, Shop
    >>> diary = Diary(Hours(Shop("UTC", (Opening((3,), 480, 1020),))), 0)
    >>> diary.latest(1000, Wanted(60, split=False))
    Slot(spans=((940, 1000),), people=(0,), over_closing=False)
    """

    def __init__(self, hours: Hours, floor: int) -> None:
        self.hours, self.floor = hours, floor
        self._groups = hours.groups
        self._starts: list[list[int]] = [[] for _ in self._groups]
        self._ends: list[list[int]] = [[] for _ in self._groups]

    def give(self, slot: Slot) -> None:
        """Give work to its people."""
        for person in slot.people:
            for start, end in slot.spans:
                self._block(person, start, end)

    def mark(self) -> Mark:
        """What is given so far, to come back to."""
        return [list(one) for one in self._starts], [list(one) for one in self._ends]

    def back_to(self, mark: Mark) -> None:
        """Take back all that was given since a mark."""
        self._starts, self._ends = [list(one) for one in mark[0]], [list(one) for one in mark[1]]

    def latest(self, end: int, wanted: Wanted, check: Check = lambda _: None, by: int = NEVER) -> Slot | None:
        """Return where work can lie at the latest.

        Takes:   the instant by which it ends; the work; what else forbids it, which says by when to end instead, always
                 sooner; the instant by which it begins.
        Returns: of the sets of people the one that can begin last; None where it can never be.
        Raises:  nothing.
        Source:  the shop document, rule 1.
        """
        found = (self._within(end, by, wanted, mix, openings, check) for mix, openings in self._openings(wanted.people))
        slots = [slot for slot in found if slot is not None]
        return max(slots, key=lambda slot: (slot.start, -slot.end, [-p for p in slot.people]), default=None)

    def over_closing(self, end: int, wanted: Wanted, check: Check, by: int = NEVER) -> Slot | None:
        """Return where work longer than any opening lies at the latest: at the opening of the longest of a week."""
        found: Slot | None = None
        for members, openings in self._openings(wanted.people):
            for opens, _ in reversed(list(openings.between(self.floor, min(end - wanted.minutes, by) + 1))):
                spans = ((opens, opens + wanted.minutes),)
                longest = openings.longest(opens)
                if longest is None or longest[0] != opens or check(spans) is not None:
                    continue
                people, _ = self._seat(spans, wanted.people, members)
                if people is not None and (found is None or opens > found.start):
                    found = Slot(spans, people, over_closing=True)
                    break
        return found

    def first(self, at: int, by: int, minutes: int, taken: Sequence[Slot] = ()) -> Slot | None:
        """Return the earliest slot in which somebody can do short work, begun from an instant until another."""
        found = [(self._first(person, at, by, minutes, taken), person) for person in range(len(self._groups))]
        starts = [(start, person) for start, person in found if start is not None]
        return Slot(((min(starts)[0], min(starts)[0] + minutes),), (min(starts)[1],)) if starts else None

    def last(self, by: int, minutes: int, taken: Sequence[Slot] = ()) -> int | None:
        """Return the last minute up to an instant in which somebody can begin short work."""
        starts = [self._last(person, by, minutes, taken) for person in range(len(self._groups))]
        return max((start for start in starts if start is not None), default=None)

    def in_the_way(self, person: int, spans: Sequence[Span]) -> Span | None:
        """The last block of a person's time that meets any of some spans; None where he is free."""
        starts, ends = self._starts[person], self._ends[person]
        index = bisect_left(starts, spans[-1][1]) - 1
        while index >= 0 and ends[index] > spans[0][0]:
            if any(start < ends[index] and starts[index] < end for start, end in spans):
                return starts[index], ends[index]
            index -= 1
        return None

    def anyone_in_by(self, instant: int) -> int:
        """The last minute up to an instant in which any of the makers is in; the instant where none ever is."""
        openings = [self._laid(self.hours.of((group,))) for group in dict.fromkeys(self._groups)]
        found = [last for one in openings if (last := one.last_before(instant + 1)) is not None]
        return max(found, default=instant)

    def _first(self, person: int, at: int, by: int, minutes: int, taken: Sequence[Slot]) -> int | None:
        openings = self._laid(self.hours.of_maker(person))
        while at <= by:
            begin = openings.begin_whole(at, minutes)
            if begin is None or begin > by:
                return None
            way = self._way(person, begin, minutes, taken)
            if way is None:
                return begin
            at = way[1]
        return None

    def _last(self, person: int, by: int, minutes: int, taken: Sequence[Slot]) -> int | None:
        openings = self._laid(self.hours.of_maker(person))
        while by >= self.floor:
            begin = openings.last_begin(by, minutes)
            way = None if begin is None else self._way(person, begin, minutes, taken)
            if begin is None or way is None:
                return begin
            by = way[0] - minutes
        return None

    def _way(self, person: int, begin: int, minutes: int, taken: Sequence[Slot]) -> Span | None:
        for slot in taken:
            if person in slot.people and slot.start < begin + minutes and begin < slot.end:
                return slot.start, slot.end
        return self.in_the_way(person, ((begin, begin + minutes),))

    def _within(
        self, end: int, by: int, wanted: Wanted, members: tuple[int, ...], openings: Openings, check: Check
    ) -> Slot | None:
        """The latest slot in the hours common to some people."""
        while end > self.floor:
            spans = self._spans(end, by, wanted, openings)
            if spans is None or spans[0][0] < self.floor:
                return None
            people, sooner = self._seat(spans, wanted.people, members)
            if people is not None:
                sooner = check(spans)
                if sooner is None:
                    return Slot(spans, people)
            if sooner is None:
                return None
            end = sooner
        return None

    def _spans(self, end: int, by: int, wanted: Wanted, openings: Openings) -> tuple[Span, ...] | None:
        if wanted.split:
            return _split(end, by, wanted, openings)
        begin = openings.last_begin(min(end - wanted.minutes, by), wanted.minutes)
        if begin is None or wanted.pause is None:
            return None if begin is None else ((begin, begin + wanted.minutes),)
        return (begin, begin + wanted.pause[0]), (begin + wanted.pause[1], begin + wanted.minutes)

    def _seat(
        self, spans: tuple[Span, ...], people: int, members: tuple[int, ...]
    ) -> tuple[tuple[int, ...] | None, int | None]:
        """Give the spans to the first who are free, or say by when to end instead."""
        ways = {person: self.in_the_way(person, spans) for person in members}
        free = [person for person, way in ways.items() if way is None]
        chosen = first_of_each(free, self._groups, members, people)
        return chosen, max((way[0] for way in ways.values() if way is not None), default=None)

    def _openings(self, people: int) -> Iterator[tuple[tuple[int, ...], Openings]]:
        return ((members, self._laid(openings)) for members, openings in self.hours.mixes(people))

    def _laid(self, openings: Openings) -> Openings:
        """The same hours, laid from the floor on: they look no further back than somebody looked first."""
        openings.last_before(self.floor + 1)
        return openings

    def _block(self, person: int, start: int, end: int) -> None:
        last = self._laid(self.hours.of_maker(person)).last_before(start)
        start = start if last is None else min(start, last + 1)
        starts, ends = self._starts[person], self._ends[person]
        first, after = bisect_left(ends, start), bisect_right(starts, end)
        if first < after:
            start, end = min(start, starts[first]), max(end, ends[after - 1])
        starts[first:after], ends[first:after] = [start], [end]


def _split(end: int, by: int, wanted: Wanted, openings: Openings) -> tuple[Span, ...] | None:
    """The last run of work that may pause at closing."""
    run = openings.run_back(end, wanted.minutes)
    start = None if run is None else openings.last_begin_split(min(run[0][0], by), wanted.minutes, wanted.least)
    return None if start is None else openings.run(start, wanted.minutes)
