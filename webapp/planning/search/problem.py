"""What the search has to know of a problem, and what it is given for each list it tries."""

from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

FORWARD, BACKWARD = 0, 1
Cost = tuple[float, ...]


@dataclass(frozen=True)
class Found:
    """A list laid out: what it costs, from which side, the list, and when each item begins and ends.

    Times run away from the side that was laid from, so that those of a plan laid backward begin at its end.
    """

    cost: Cost
    side: int
    order: tuple[int, ...]
    starts: tuple[int, ...]
    ends: tuple[int, ...]

    @cached_property
    def lists(self) -> tuple[list[int], list[int]]:
        """The list that leads to this plan, or past it, from either side: by starts or, from the other, by ends.

        Laid out from the other side, the list by ends pushes all items as far that way as they go: what is known as
        justification. Equals stay in the order they were laid in, or against it.

        >>> plan = Found((5,), FORWARD, (0, 1, 2), (0, 0, 2), (2, 5, 3))
        >>> plan.lists
        ([0, 1, 2], [1, 2, 0])
        """
        own = sorted(self.order, key=self.starts.__getitem__)
        other = sorted(self.order, key=self.ends.__getitem__)[::-1]
        return (other, own) if self.side else (own, other)

    def times(self, side: int) -> list[int]:
        """When each item begins, seen from a side; from the other one less its end."""
        return list(self.starts) if side == self.side else [-end for end in self.ends]


class Problem(Protocol):
    """What can be searched: items that wait for each other, and a way to lay a list of them out.

    A list holds every item once, none before what it waits for. `sides` says whether lists can be laid from the front
    only (1) or from the back as well (2), at costs that may be compared.
    """

    @property
    def sides(self) -> int:
        """1: from the front only. 2: from the back as well."""

    @property
    def before(self) -> tuple[tuple[tuple[int, ...], ...], ...]:
        """For each side and item, what has to come earlier in a list."""

    @property
    def urgency(self) -> tuple[tuple[float, ...], ...]:
        """For each side and item a time, the lower the sooner it should come: the latest finish, as a rule."""

    @property
    def work(self) -> tuple[float, ...]:
        """For each item how much it takes of what is scarce, times how long: where a plan is densely packed."""

    @property
    def least(self) -> Cost:
        """What no plan can cost less than; the search ends where it is reached."""

    def place(self, order: list[int], side: int) -> Found:
        """Lay a list out from a side; one pass."""

    def shift(self, found: Found) -> Found:
        """Push a plan that was found together; as it is, where there are not passes enough for that.

        With two sides that is one pass from the other side, with one side two passes, there and back.
        """
