"""What a plan costs: when its builds end, how late that is, and which of two plans is better."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, clearances
from webapp.planning.network import Build
from webapp.planning.progress import Progress
from webapp.trade.air.readings import NEVER


@dataclass(frozen=True, slots=True, order=True)
class Cost:
    """What one plan costs; the less the better, compared from the first on.

    `late` is in weighted minutes; `finishes` is the sum of the instants at which builds end, those apart that never do.
    """

    blocked: int
    missed: int
    late: float
    finishes: int
    starts: tuple[int, ...]


def cost_of(graph: Graph, hours: Hours, laid: Mapping[int, Laid]) -> Cost:
    """Return what a layout costs.

    Takes:   the graph; the hours of its shop; all operations laid out.
    Returns: its cost.
    Raises:  nothing.
    Source:  the shop document, rule 9.

    >>> from webapp.planning.network import Document, Opening, Operation, Shop
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> graph = Graph(Document(0, shop, builds=(Build("Stool", (Operation("mill", "mill", 60),), due=500),)))
    >>> cost_of(graph, Hours(shop), {0: Laid(start=480, end=540, clears=540)})
    Cost(blocked=0, missed=0, late=40.0, finishes=540, starts=(480,))
    """
    late, finishes = 0.0, 0
    for number, build in enumerate(graph.builds):
        finish, due = finish_of(graph, number, laid), due_of(build, hours)
        if finish is not None:
            finishes += finish
            late += build.weight * max(finish - due, 0) if due is not None else 0
    return Cost(
        blocked=sum(one.blocked_by is not None for one in laid.values()),
        missed=sum(_missed(graph, number, laid) for number in laid),
        late=late,
        finishes=finishes,
        starts=tuple(
            NEVER if laid[node.number].start is None else laid[node.number].start or 0 for node in graph.nodes
        ),
    )


def finish_of(graph: Graph, build: int, laid: Mapping[int, Laid]) -> int | None:
    """When the last operation of a build has ended and the stages asked for are reached; None where some never are."""
    ends: list[int | None] = []
    for node in graph.of_build(build):
        is_abandoned = node.progress is Progress.ABANDONED
        ends.append(node.operation.abandoned if is_abandoned else laid[node.number].clears)
    ends += [laid[number].stages.get(stage) for number, stage in graph.asked[build]]
    known = [end for end in ends if end is not None]
    return max(known) if len(known) == len(ends) else None


def due_of(build: Build, hours: Hours) -> int | None:
    """When a build is due: its instant, or the last closing of its date."""
    return hours.due(build.due) if isinstance(build.due, date) else build.due


def _missed(graph: Graph, number: int, laid: Mapping[int, Laid]) -> int:
    """How much of an operation comes too late: its own start after a layer or a follow-up, its tending."""
    one = laid[number]
    found = int(one.missed) + sum(piece.missed for piece in one.tending)
    node = graph.nodes[number]
    if number in graph.close and one.start is not None and node.progress is Progress.TO_COME:
        for hold in clearances(node, laid, graph):
            found += hold.start_by is not None and one.start > hold.start_by
    return found
