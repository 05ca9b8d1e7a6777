"""What the operations of a build wait for: the way round a circle, the stages there are, who waits for whom."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from webapp.builds.models import Operation

Edges = Mapping[int, Iterable[int]]  # of each operation: those it waits for, or lies over


def stage_names(operation: Operation) -> list[str]:
    """Return the named points of an operation's wait: its product's, then its own."""
    figures = operation.product.current.data if operation.product else {}
    return merged(figures.get("stages"), operation.stages)


def merged(*lists: Iterable[Mapping[str, Any]] | None) -> list[str]:
    """Return the names in lists of stages, as far as there are any, each once, in the order in which they come."""
    return list(dict.fromkeys(str(stage["name"]) for stages in lists for stage in stages or ()))


def named_by(operation: Operation) -> set[int]:
    """Return the operations that an operation waits for or lies over."""
    return {link.waits_for_id for link in operation.after} | ({operation.over_id} if operation.over_id else set())


def edges(named: Mapping[int, set[int]], again_for: Mapping[int, int]) -> dict[int, set[int]]:
    """Return what each operation waits for in the end: who waits for work that is done again waits for that as well.

    `named` has what each one waits for itself, `again_for` which earlier one an operation does again.
    """
    found = {one: set(others) for one, others in named.items()}
    for later, first in again_for.items():
        for one, others in named.items():
            if first in others and one != later:
                found[one].add(later)
        found[later].add(first)
    return found


def circle(start: int, waits: Edges) -> list[int]:
    """Return the shortest way from an operation back to itself along what waits for what; empty where there is none."""
    came_from: dict[int, int] = {}
    edge = [start]
    while edge:
        following = []
        for one in edge:
            for other in waits.get(one, ()):
                if other == start:
                    return _way(start, one, came_from)
                if other not in came_from:
                    came_from[other] = one
                    following.append(other)
        edge = following
    return []


def _way(start: int, end: int, came_from: Mapping[int, int]) -> list[int]:
    way = [end]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return way[::-1]


def circle_in_words(names: Sequence[str]) -> str:
    """Return the circle as a sentence: A waits for B, which waits for A."""
    first, *others = names
    steps = ", which waits for ".join([*(f"“{name}”" for name in others), f"“{first}”"])
    return f"That is a circle: “{first}” waits for {steps}."


def waiting_for(operation: Operation, operations: Iterable[Operation]) -> list[Operation]:
    """Return the operations that wait for this one, lie over it, or do it again."""
    return [
        other
        for other in operations
        if any(link.waits_for_id == operation.id for link in other.after)
        or other.over_id == operation.id
        or other.again_for_id == operation.id
    ]


def stages_wanted(operation: Operation, operations: Iterable[Operation]) -> dict[str, str]:
    """Return the stages of an operation that others count on, each with the name of one that does."""
    wanted = {
        link.stage: other.name
        for other in operations
        for link in other.after
        if link.waits_for_id == operation.id and link.stage
    }
    for row in operation.build.done_at or ():
        if row["operation"] == operation.key:
            wanted.setdefault(row["stage"], "the hand-over")
    return wanted
