"""A plan with how late its operations could lie, and a word where that is too late already."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from webapp.planning.backwards.laying import lay_backwards
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, clearances
from webapp.planning.place import not_before
from webapp.planning.planned import Flag, FlagName, Plan, Planned, PlannedBuild, Span
from webapp.planning.wording import named, when


def with_latest(plan: Plan, graph: Graph, hours: Hours, planned: Mapping[int, Laid]) -> Plan:
    """Return a plan with the latest spans of all its operations.

    Takes:   the plan; the graph and the hours it was made of; how it lays everything.
    Returns: the same; operations of builds that are not laid backwards have none. One that would have to start before
             now, or before it may, has the flag `late` that says so.
    Raises:  nothing.
    Source:  the shop document, `--latest`.
    """
    found = _Latest(graph, hours, planned)
    return replace(plan, builds=tuple(found.build(number, build) for number, build in enumerate(plan.builds)))


class _Latest:
    def __init__(self, graph: Graph, hours: Hours, planned: Mapping[int, Laid]) -> None:
        self.graph, self.hours, self.planned = graph, hours, planned
        self.laid = lay_backwards(graph, planned)

    def build(self, number: int, build: PlannedBuild) -> PlannedBuild:
        """One build with its latest spans."""
        spans: dict[str, tuple[Span, ...]] = {}
        flags: dict[str, tuple[Flag, ...]] = {}
        for node in self.graph.of_build(number):
            spans |= self._spans(node)
            flags[node.key] = tuple(self._late(node, build))
        return replace(build, operations=tuple(_with(one, spans, flags) for one in build.operations))

    def _spans(self, node: Node) -> dict[str, tuple[Span, ...]]:
        laid = self.laid.get(node.number)
        if laid is None:
            return {}
        own = {} if laid.slot is None else {node.key: laid.slot.spans}
        return own | {piece.key: piece.slot.spans for piece in laid.pieces}

    def _late(self, node: Node, build: PlannedBuild) -> Iterator[Flag]:
        laid = self.laid.get(node.number)
        if laid is None or laid.from_ is None or build.due is None or not node.may_move:
            return
        now, may = self.graph.document.now, max(self._may(node))
        if laid.from_ >= max(now, may):
            return
        name, start, due = named(node.operation), self._when(laid.from_), self._when(build.due)
        kept = f"would have had to start {start}, before now" if laid.from_ < now else f"would have to start {start}"
        but = "" if may <= now else f", but cannot before {self._when(may)}"
        says = (
            f"Laid backwards from the date of {build.name}, {due}, {name} {kept}{but}. "
            "Agree on a later date, add hours or hands before then, or put other builds behind it."
        )
        yield Flag(FlagName.LATE, says, build.due)

    def _may(self, node: Node) -> Iterator[int]:
        """From when on it may start, for its dates and for what it waits for that stays where it is."""
        dates = [not_before(self.graph.builds[node.build], self.hours), node.operation.not_before, 0]
        yield from (when for when in dates if when is not None)
        for hold in clearances(node, self.planned, self.graph):
            if not self.graph.nodes[hold.link.to].may_move and hold.until is not None:
                yield hold.until

    def _when(self, instant: int) -> str:
        return when(instant, self.hours.zone)


def _with(one: Planned, spans: Mapping[str, tuple[Span, ...]], flags: Mapping[str, tuple[Flag, ...]]) -> Planned:
    return replace(one, latest_spans=spans.get(one.key, ()), flags=(*one.flags, *flags.get(one.key, ())))
