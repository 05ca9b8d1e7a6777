"""In which order whole builds promise to be least late: a rough count that takes microseconds, not a plan.

Taken as if one build were worked off after the other, a build ends when the work of all before it and its own is done,
and no sooner than it would if it went first. That is wrong by what fills its waits, but it ranks orders well, and so
the few plans that can be tried are tried where it counts.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.planning.chance import Chance
from webapp.planning.openings import Openings

MOST = 4_000  # orders that are counted through

Order = tuple[int, ...]
Worth = tuple[float, int]


@dataclass(frozen=True, slots=True)
class Whole:
    """A build as a whole: its hands-on minutes, when it ends if it goes first, when it is due, its weight."""

    minutes: int
    alone: int
    due: int | None
    weight: float


def promising(builds: Sequence[Whole], openings: Openings, now: int, chance: Chance) -> list[Order]:
    """Return orders of builds, those that promise least lateness first.

    Takes:   the builds; the hours in which they are worked; now; where chance comes from.
    Returns: orders of their numbers, each once.
    Raises:  nothing.
    Source:  our own; single-machine sequencing with insertion moves.

    >>> from webapp.planning.hours import Hours
    >>> from webapp.planning.network import Opening, Shop
    >>> openings = Hours(Shop("UTC", (Opening((0, 1, 2, 3, 4), 480, 1020),))).of()
    >>> long, short = Whole(600, 1200, None, 1), Whole(60, 540, 560, 1)
    >>> promising([long, short], openings, 0, Chance(1))
    [(1, 0), (0, 1)]
    """
    count = _Count(builds, openings, now)
    known: dict[Order, Worth] = {}
    by_due = sorted(range(len(builds)), key=lambda number: (builds[number].due is None, builds[number].due or 0))
    for start in _starts(by_due, chance):
        if len(known) >= MOST:
            break
        _descend(tuple(start), count, known)
    return sorted(known, key=lambda order: (known[order], order))


class _Count:
    def __init__(self, builds: Sequence[Whole], openings: Openings, now: int) -> None:
        self.builds, self.now = builds, now
        self._spans = openings.run(now, sum(build.minutes for build in builds)) or ()
        self._worked: dict[int, int] = {}

    def __call__(self, order: Order) -> Worth:
        """Weighted minutes late and the sum of the ends, of builds worked off in this order."""
        worked, late, ends = 0, 0.0, 0
        for number in order:
            build = self.builds[number]
            worked += build.minutes
            end = max(self._end(worked), build.alone)
            ends += end - self.now
            if build.due is not None and end > build.due:
                late += build.weight * (end - build.due)
        return late, ends

    def _end(self, minutes: int) -> int:
        """When so many open minutes from now are over."""
        if minutes not in self._worked:
            left, at = minutes, self.now + minutes
            for begin, end in self._spans:
                at = begin + left
                left -= end - begin
                if left <= 0:
                    break
            self._worked[minutes] = at
        return self._worked[minutes]


def _starts(first: list[int], chance: Chance) -> Iterator[list[int]]:
    """The order to begin with, then shuffled ones."""
    yield first
    for _ in range(20):
        left = list(first)
        yield [left.pop(chance.below(len(left))) for _ in first]


def _descend(order: Order, count: _Count, known: dict[Order, Worth]) -> None:
    """Put single builds elsewhere in an order as long as that promises more."""
    best = known[order] = count(order)
    is_better = True
    while is_better and len(known) < MOST:
        is_better = False
        for changed in _insertions(order):
            if changed not in known:
                known[changed] = count(changed)
            if known[changed] < best:
                order, best, is_better = changed, known[changed], True
                break


def _insertions(order: Order) -> Iterator[Order]:
    for place, number in enumerate(order):
        rest = order[:place] + order[place + 1 :]
        for other in range(len(order)):
            if other != place:
                yield (*rest[:other], number, *rest[other:])
