"""Who can start when: the people of a shop, their hours, and what they are already given.

A set of people works when all of them are in. Which hours that leaves depends only on whose weekly hours they keep, so
people of the same hours are one group, and sets are sought as combinations of groups instead of people: for each the
first start at which enough of its people are free.

Work given away only ever grows earlier or later blocks of a person's time. Two facts make the search short: a person
busy at some minute of a run of work stays in its way for every start up to the end of that block, so the next start
worth trying is the end of a block; and a block that ends at closing is kept as lasting until he is in again, so that
full days become one block.
"""

from bisect import bisect_left, bisect_right, insort
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from webapp.planning.hours import Hours
from webapp.planning.instants import DAY
from webapp.planning.mixes import first_of_each
from webapp.planning.needs import Lead
from webapp.planning.openings import Openings
from webapp.planning.planned import Span
from webapp.trade.air.readings import NEVER

MEETING = 14 * DAY  # people who do not meet within this are not waited for


Mark = list[list[list[Any]]]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Work to be given to people: how long, whether it may pause at closing, for how many.

    `pause` is a part of work of one piece in which nobody is needed: from and until which of its minutes.
    """

    minutes: int
    split: bool
    people: int = 1
    least: int = 0
    pause: Span | None = None

    def led_by(self, lead: Lead) -> "Wanted":
        """The same with what is put in before it, all of it in one piece."""
        if not lead.pieces:
            return self
        pause = (lead.worked, lead.minutes) if lead.settles else None
        return replace(self, minutes=self.minutes + lead.minutes, split=False, pause=pause)


@dataclass(frozen=True, slots=True)
class Slot:
    """Where work lies: its spans and people. `over_closing` work is longer than any opening and runs past its end."""

    spans: tuple[Span, ...]
    people: tuple[int, ...]
    over_closing: bool = False

    @property
    def start(self) -> int:
        """When it begins."""
        return self.spans[0][0]

    @property
    def end(self) -> int:
        """When it ends."""
        return self.spans[-1][1]


@dataclass(frozen=True, slots=True)
class Bar:
    """What else may forbid work to lie somewhere: the cold, the end of a window.

    `later` says from when on to try again, always after the start of the spans it is given, or None where they are
    allowed. Nothing is sought from `by` on. The later work starts in some people's hours, the later it must be allowed
    again: each set of people is sought by itself.
    """

    later: Callable[[Sequence[Span]], int | None]
    by: int = NEVER


NO_BAR = Bar(lambda _: None)


class Roster:
    """The people of a shop and what they are given; people go by their number in the shop's list."""

    def __init__(self, hours: Hours) -> None:
        self.hours = hours
        self._groups = hours.groups
        self._given: list[list[Span]] = [[] for _ in self._groups]
        self._starts: list[list[int]] = [[] for _ in self._groups]
        self._ends: list[list[int]] = [[] for _ in self._groups]

    def give(self, slot: Slot) -> None:
        """Give work to its people."""
        for person in slot.people:
            for span in slot.spans:
                insort(self._given[person], span)
                self._block(person, *span)

    def mark(self) -> Mark:
        """What is given so far, to come back to."""
        return [[list(one) for one in lists] for lists in (self._given, self._starts, self._ends)]

    def back_to(self, mark: Mark) -> None:
        """Take back all that was given since a mark; a mark serves once."""
        self._given, self._starts, self._ends = mark

    def take_back(self, slot: Slot) -> None:
        """Take back what was given."""
        for person in slot.people:
            for span in slot.spans:
                self._given[person].remove(span)
            self._starts[person], self._ends[person] = [], []
            for span in self._given[person]:
                self._block(person, *span)

    def _block(self, person: int, start: int, end: int) -> None:
        openings = self.hours.of_maker(person)
        end = openings.next_open(end) or end
        starts, ends = self._starts[person], self._ends[person]
        first, last = bisect_left(ends, start), bisect_right(starts, end)
        if first < last:
            start, end = min(start, starts[first]), max(end, ends[last - 1])
        starts[first:last], ends[first:last] = [start], [end]

    @property
    def people(self) -> int:
        """How many there are."""
        return len(self._groups)

    def last_end(self, person: int) -> int:
        """When the last work given to a person ends."""
        return max((end for _, end in self._given[person]), default=0)

    def is_given(self, person: int, spans: Sequence[Span]) -> bool:
        """Whether a person is given other work in any of some spans."""
        return any(start < end and begin < stop for begin, end in self._given[person] for start, stop in spans)

    def runs_over(self, spans: Sequence[Span], people: Sequence[int]) -> bool:
        """Whether work lies outside the hours of its people."""
        openings = self.hours.together(people)
        return any(openings.minutes(start, end) < end - start for start, end in spans)

    def in_the_way(self, person: int, spans: Sequence[Span]) -> int | None:
        """The end of the last block of a person's time that meets any of some spans; None when he is free."""
        starts, ends = self._starts[person], self._ends[person]
        index = bisect_right(ends, spans[0][0])
        if index == len(starts) or starts[index] >= spans[-1][1]:
            return None
        found = None
        while index < len(starts) and starts[index] < spans[-1][1]:
            if any(start < ends[index] and starts[index] < end for start, end in spans):
                found = ends[index]
            index += 1
        return found

    def _free_from(self, person: int, instant: int) -> int:
        """The first minute from an instant on at which a person is at no work."""
        index = bisect_right(self._ends[person], instant)
        starts = self._starts[person]
        return self._ends[person][index] if index < len(starts) and starts[index] <= instant else instant

    def can_meet(self, ready: int, people: int) -> int:
        """How many people, of so many wanted, are ever in together in the 14 days from an instant.

        Where nobody comes in so long, the days count from when somebody does. 0: nobody comes at all.
        """
        if people == 1 and len(self._groups) == 1:
            return 1
        opens = [openings.next_open(ready) for _, openings in self.hours.mixes(1)]
        first = min((instant for instant in opens if instant is not None), default=None)
        if first is None:
            return 0
        for count in range(min(people, len(self._groups)), 0, -1):
            for _, openings in self.hours.mixes(count):
                meeting = openings.next_open(ready)
                if meeting is not None and meeting < first + MEETING:
                    return count
        return 0

    def earliest(self, ready: int, wanted: Wanted, bar: Bar = NO_BAR) -> Slot | None:
        """Return where work can lie at the earliest.

        Takes:   the instant from which on it may start; the work, for no more people than ever meet; what else forbids
                 it.
        Returns: of the sets of people that can start then, the one that ends first, on a tie the first in the order of
                 the list. None where it can never be done.
        Raises:  nothing.
        Source:  the shop document, rule 1.

        >>> from webapp.planning.network import Opening, Shop
        >>> roster = Roster(Hours(Shop("UTC", (Opening((3,), 480, 1020),))))
        >>> roster.earliest(0, Wanted(60, split=False))
        Slot(spans=((480, 540),), people=(0,), over_closing=False)
        """
        start: int | None = ready
        sets = self.hours.mixes(wanted.people)
        while start is not None and start < bar.by:
            found = [self._within(start, wanted, members, openings, bar) for members, openings in sets]
            slots = [slot for slot in found if slot is not None]
            if slots:
                return slots[0] if len(slots) == 1 else min(slots, key=_first)
            if bar.by < NEVER and any(self._spans(start, wanted, openings) for _, openings in sets):
                return None  # it is not too long, it was forbidden
            slot, start = self._over_closing(start, wanted, bar)
            if slot is not None:
                return slot
        return None

    def _within(
        self, ready: int, wanted: Wanted, members: tuple[int, ...], openings: Openings, bar: Bar
    ) -> Slot | None:
        """The earliest slot in the hours common to some people."""
        start: int | None = self._free_from(members[0], ready) if len(members) == 1 else ready
        while start is not None and start < bar.by:
            spans = self._spans(start, wanted, openings)
            if spans is None or spans[0][0] >= bar.by:
                return None
            start = bar.later(spans)
            if start is None:
                slot, start = self._seat(spans, wanted.people, members)
                if slot is not None:
                    return slot
        return None

    def _spans(self, start: int, wanted: Wanted, openings: Openings) -> tuple[Span, ...] | None:
        begin = openings.fits(start, wanted.minutes)
        if begin is not None and wanted.pause is None:
            return ((begin, begin + wanted.minutes),)
        if wanted.split:
            begin = openings.begin_split(start, wanted.minutes, wanted.least)
            return None if begin is None else openings.run(begin, wanted.minutes)
        begin = openings.begin_whole(start, wanted.minutes)
        if begin is None or wanted.pause is None:
            return None if begin is None else ((begin, begin + wanted.minutes),)
        return (begin, begin + wanted.pause[0]), (begin + wanted.pause[1], begin + wanted.minutes)

    def _seat(self, spans: tuple[Span, ...], people: int, members: tuple[int, ...]) -> tuple[Slot | None, int | None]:
        """Give the spans to the first who are free, or say when to try again."""
        if len(members) == 1:
            end = self.in_the_way(members[0], spans)
            return (Slot(spans, members), None) if end is None else (None, end)
        ends = {person: self.in_the_way(person, spans) for person in members}
        chosen = first_of_each([person for person, end in ends.items() if end is None], self._groups, members, people)
        later = [end for end in ends.values() if end is not None]
        return (None, min(later, default=None)) if chosen is None else (Slot(spans, chosen), None)

    def _over_closing(self, start: int, wanted: Wanted, bar: Bar) -> tuple[Slot | None, int | None]:
        """Work longer than any opening of the week: at the opening of the longest, and past its closing.

        Where its people are at other work then, or it is forbidden, the instant from which on to look again; never,
        where none opens.
        """
        longest = [
            (span[0] - span[1], span[0], members)
            for members, openings in self.hours.mixes(wanted.people)
            if not wanted.split and (span := openings.longest(start)) is not None
        ]
        if not longest:
            return None, None
        _, opens, members = min(longest)
        spans = ((opens, opens + wanted.minutes),)
        later = opens if opens >= bar.by else bar.later(spans)
        if later is not None:
            return None, later
        slot, _ = self._seat(spans, wanted.people, members)
        return (None, opens + 1) if slot is None else (Slot(slot.spans, slot.people, over_closing=True), None)


def _first(slot: Slot) -> tuple[int, int, tuple[int, ...]]:
    return slot.start, slot.end, slot.people
