"""Laying a plain project out: each activity of a list as early as it fits, from the front or from the back.

All resources of one unit of time are one integer, a field for each with a guard bit above it. What is free is that
integer; a demand fits where no guard bit is lost by taking it away: one subtraction and one mask for all resources.
A stretch is looked at from its end, so that the last unit that is too full sets the next start, and none twice.
From the back is the same with all links turned round.
"""

from functools import cached_property

from webapp.planning.search.budget import Budget
from webapp.planning.search.problem import BACKWARD, FORWARD, Found
from webapp.planning.search.project import Project


class Placing:
    """A plain project for the search; the cost of a plan is how long it takes.

    Takes:   the project; the budget that pays for every pass.
    Returns: what `Problem` asks for, with two sides; `starts` turns what was found into times from the beginning.
    Raises:  ValueError from a pass when the budget is used up.
    Source:  serial schedule generation: Kelley (1963); justification: Wiest (1964), Valls, Ballestin, Quintanilla,
             EJOR 165 (2005) 375-386. Packing all resources in one integer: our own.

    >>> from webapp.planning.search.project import Link
    >>> chest = Project((2, 3, 1), ((1,), (1,), (1,)), (1,), (Link(0, 1), Link(0, 2, wait=4)))
    >>> placing = Placing(chest, Budget(2))
    >>> found = placing.place([0, 1, 2], FORWARD)
    >>> found.cost, placing.starts(found)
    ((7,), (0, 2, 6))
    >>> placing.starts(placing.shift(found))
    (0, 3, 6)
    """

    sides = 2

    def __init__(self, project: Project, budget: Budget) -> None:
        self.project, self.budget = project, budget
        widths = [capacity.bit_length() + 1 for capacity in project.capacities]
        shifts = [sum(widths[:number]) for number in range(len(widths))]
        self._guards = sum(1 << (shift + width - 1) for shift, width in zip(shifts, widths, strict=True))
        self._free = self._guards + sum(c << shift for c, shift in zip(project.capacities, shifts, strict=True))
        needs = [sum(a << shift for a, shift in zip(row, shifts, strict=True)) for row in project.demands]
        self._activities = tuple(zip(project.durations, needs, strict=True))
        self._horizon = sum(project.durations) + sum(link.wait for link in project.links)
        self._gaps = self._laid_gaps()

    def _laid_gaps(self) -> tuple[tuple[tuple[tuple[int, int], ...], ...], ...]:
        """For each side and activity: what it waits for, and how long after the start of that it may start."""
        gaps: list[list[list[tuple[int, int]]]] = [[[] for _ in self.project.durations] for _ in range(2)]
        for link in self.project.links:
            gaps[FORWARD][link.later].append((link.earlier, self.project.durations[link.earlier] + link.wait))
            gaps[BACKWARD][link.earlier].append((link.later, self.project.durations[link.later] + link.wait))
        return tuple(tuple(map(tuple, side)) for side in gaps)

    @cached_property
    def before(self) -> tuple[tuple[tuple[int, ...], ...], ...]:
        """For each side and activity, what it waits for."""
        return tuple(tuple(tuple(other for other, _ in row) for row in side) for side in self._gaps)

    @cached_property
    def urgency(self) -> tuple[tuple[float, ...], ...]:
        """For each side and activity its latest finish, were the project as long as its longest path."""
        longest = self.least[0]
        earliest = self._earliest(FORWARD), self._earliest(BACKWARD)
        return tuple(tuple(longest - start for start in earliest[1 - side]) for side in (FORWARD, BACKWARD))

    @cached_property
    def work(self) -> tuple[float, ...]:
        """For each activity the shares of the resources that it holds, times how long."""
        shares = [
            sum(amount / capacity for amount, capacity in zip(row, self.project.capacities, strict=True) if capacity)
            for row in self.project.demands
        ]
        return tuple(share * duration for share, duration in zip(shares, self.project.durations, strict=True))

    @cached_property
    def least(self) -> tuple[float, ...]:
        """The length of the longest path."""
        starts = self._earliest(FORWARD)
        return (max(map(sum, zip(starts, self.project.durations, strict=True)), default=0),)

    def _earliest(self, side: int) -> list[int]:
        """When each activity could start, were there enough of everything."""
        starts = [0] * len(self._activities)
        for number in self.project.topological if side == FORWARD else reversed(self.project.topological):
            starts[number] = max((starts[other] + gap for other, gap in self._gaps[side][number]), default=0)
        return starts

    def place(self, order: list[int], side: int) -> Found:
        """Lay a list out from a side, each activity as near to it as it fits."""
        self.budget.spend()
        gaps, activities, guards = self._gaps[side], self._activities, self._guards
        free = [self._free] * self._horizon
        starts = [0] * len(activities)
        for number in order:
            start = 0
            for other, gap in gaps[number]:
                if starts[other] + gap > start:
                    start = starts[other] + gap
            duration, need = activities[number]
            if need:
                known, slot = start, start + duration - 1
                while slot >= known:
                    if (free[slot] - need) & guards == guards:
                        slot -= 1
                    else:
                        known, start = start + duration, slot + 1
                        slot = slot + duration
                for slot in range(start, start + duration):
                    free[slot] -= need
            starts[number] = start
        ends = [start + duration for start, duration in zip(starts, self.project.durations, strict=True)]
        return Found((max(ends, default=0),), side, tuple(order), tuple(starts), tuple(ends))

    def shift(self, found: Found) -> Found:
        """Push all activities as far to the other side as they go, the last first; as it is without a pass left."""
        if not self.budget.left:
            return found
        return self.place(found.lists[1 - found.side], 1 - found.side)

    def starts(self, found: Found) -> tuple[int, ...]:
        """When each activity starts, counted from the beginning of the plan."""
        if found.side == FORWARD:
            return found.starts
        length = max(found.ends, default=0)
        return tuple(length - end for end in found.ends)
