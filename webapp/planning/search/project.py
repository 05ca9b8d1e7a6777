"""A plain project: activities with durations, minimum waits between them, counted resources. No hours, no calendar."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property


class ProjectError(ValueError):
    """A project that no plan exists for; the text says which activity it fails at."""


@dataclass(frozen=True, slots=True)
class Link:
    """An activity that may begin once another has ended and a wait has passed."""

    earlier: int
    later: int
    wait: int = 0


@dataclass(frozen=True)
class Project:
    """Activities by number.

    Takes:   how long each takes; how much of each resource each holds meanwhile; how much there is of each resource;
             what waits for what, with the wait after the end.
    Returns: the project, checked.
    Raises:  ProjectError where an activity asks for more than there is, a number is below 0, lists are not of one
             length, or activities wait for each other in a circle.
    Source:  the resource-constrained project scheduling problem: Pritsker, Watters, Wolfe (1969), with minimum lags.

    >>> chest = Project((2, 3, 1), ((1,), (1,), (1,)), (1,), (Link(0, 1), Link(0, 2, wait=4)))
    >>> chest.topological
    (0, 1, 2)
    >>> Project((2,), ((3,),), (1,), ())
    Traceback (most recent call last):
      ...
    webapp.planning.search.project.ProjectError: activity 0 takes 3 of resource 0, and there are 1
    """

    durations: tuple[int, ...]
    demands: tuple[tuple[int, ...], ...]
    capacities: tuple[int, ...]
    links: tuple[Link, ...]

    def __post_init__(self) -> None:
        fault = next(_faults(self), None)
        if fault is not None:
            raise ProjectError(fault)
        if len(self.topological) < len(self.durations):
            lacking = sorted(set(range(len(self.durations))) - set(self.topological))
            raise ProjectError(f"activities {lacking} wait for themselves, by a circle")

    @cached_property
    def topological(self) -> tuple[int, ...]:
        """All activities, none before what it waits for; those on a circle are left out."""
        waiting = [0] * len(self.durations)
        for link in self.links:
            waiting[link.later] += 1
        later = grouped(len(self.durations), ((link.earlier, link.later) for link in self.links))
        ready = [number for number, count in enumerate(waiting) if not count]
        for number in ready:
            for other in later[number]:
                waiting[other] -= 1
                if not waiting[other]:
                    ready.append(other)
        return tuple(ready)


def grouped(count: int, pairs: Iterable[tuple[int, int]]) -> list[list[int]]:
    """Return for each number those that are paired with it, in the order given."""
    groups: list[list[int]] = [[] for _ in range(count)]
    for one, other in pairs:
        groups[one].append(other)
    return groups


def _faults(project: Project) -> Iterator[str]:
    if len(project.demands) != len(project.durations):
        yield f"{len(project.durations)} durations, and demands for {len(project.demands)} activities"
    for number, (duration, demand) in enumerate(zip(project.durations, project.demands, strict=False)):
        if duration < 0:
            yield f"activity {number} takes {duration}"
        yield from _too_much(number, demand, project.capacities)
    for link in project.links:
        if link.wait < 0 or not {link.earlier, link.later} <= set(range(len(project.durations))):
            yield f"no such link: {link}"


def _too_much(number: int, demand: Sequence[int], capacities: Sequence[int]) -> Iterator[str]:
    if len(demand) != len(capacities):
        yield f"activity {number} names {len(demand)} resources, and there are {len(capacities)}"
    for resource, (amount, capacity) in enumerate(zip(demand, capacities, strict=False)):
        if not 0 <= amount <= capacity:
            yield f"activity {number} takes {amount} of resource {resource}, and there are {capacity}"
