"""A past build weighed: plan against real, operation by operation. Pure; rows are turned into these by the views."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from statistics import median


@dataclass(frozen=True)
class Step:
    """One operation: what was estimated and what the journal holds, in minutes."""

    name: str
    kind: str
    group: str
    estimated: int
    worked: int
    done: bool
    abandoned: bool = False

    @property
    def factor(self) -> float | None:
        """Real over estimated: 2.37 means it took 2.37 times as long. None while it is not done or has no hours."""
        return self.worked / self.estimated if self.done and self.worked else None


@dataclass(frozen=True)
class Review:
    """A build's steps and what comes out of them."""

    steps: tuple[Step, ...]
    first: date | None
    last: date | None

    @property
    def estimated(self) -> int:
        return sum(step.estimated for step in self.steps)

    @cached_property
    def worked(self) -> int:
        return sum(step.worked for step in self.steps)

    @property
    def days(self) -> int | None:
        """Calendar days from the first work to the last, both counted."""
        return (self.last - self.first).days + 1 if self.first and self.last else None

    @cached_property
    def factor(self) -> float | None:
        """Real over estimated, over the operations that are done and have hours."""
        counted = [step for step in self.steps if step.done and step.worked]
        return sum(step.worked for step in counted) / sum(step.estimated for step in counted) if counted else None

    def by_kind(self) -> dict[str, tuple[int, int]]:
        """Return (estimated, worked) minutes of each kind of operation, in order of first appearance."""
        found: dict[str, tuple[int, int]] = {}
        for step in self.steps:
            estimated, worked = found.get(step.kind, (0, 0))
            found[step.kind] = estimated + step.estimated, worked + step.worked
        return found


@dataclass(frozen=True)
class Bars:
    """Two bars to one scale, in thousandths of the longest."""

    name: str
    estimated: int
    worked: int
    estimated_width: int
    worked_width: int


def bars(steps: Iterable[Step]) -> list[Bars]:
    """Return a pair of bars for each step, all to one scale."""
    every = list(steps)
    longest = max((max(step.estimated, step.worked) for step in every), default=0) or 1
    return [
        Bars(
            step.name, step.estimated, step.worked,
            round(1000 * step.estimated / longest), round(1000 * step.worked / longest),
        )
        for step in every
    ]  # fmt: skip


def beside(left: Review, right: Review) -> list[tuple[str, int, int]]:
    """Return (kind, minutes worked left, minutes worked right) for each kind either build has."""
    one, other = left.by_kind(), right.by_kind()
    return [(kind, one.get(kind, (0, 0))[1], other.get(kind, (0, 0))[1]) for kind in dict.fromkeys([*one, *other])]


def usual_factor(factors: Sequence[float]) -> float | None:
    """Return the middle of past factors, which one bad build does not move much."""
    return float(median(factors)) if factors else None
