"""What follows an operation on the same equipment, in the same drying place or in the same air, as planned.

Kept simple, and never too late: where a thing is ever too scarce for all who take it, they keep their order.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.planning.graph import Graph, Node
from webapp.planning.laid import Laid


@dataclass(frozen=True, slots=True)
class Follower:
    """An operation that may start when a stage of another is reached, or its work has ended, and some minutes later."""

    number: int
    stage: str | None
    minutes: int = 0


class Following:
    """The followers in one layout.

    Takes:   the graph; what was laid.
    Returns: for a node, what must not start before it gives something back.
    Raises:  nothing.
    Source:  the shop document, `latest_start`, and rules 5 and 6.
    """

    def __init__(self, graph: Graph, laid: Mapping[int, Laid]) -> None:
        self.graph, self.laid = graph, laid
        self.there = {equipment.name: equipment.count for equipment in graph.document.shop.equipment}
        self.places = {room.name: room.drying_places for room in graph.document.shop.rooms}
        self._takers: dict[str, list[Node]] = {}
        self._rooms: dict[str, list[Node]] = {}
        for node in graph.nodes:
            if laid[node.number].slot is None or not node.needs.any:
                continue
            for taken in node.needs.equipment:
                self._takers.setdefault(taken.name, []).append(node)
            if node.needs.room is not None:
                self._rooms.setdefault(node.needs.room, []).append(node)
        self._scarce = {name for name, nodes in self._takers.items() if self._asked(name, nodes) > self.there[name]}
        self._crowded = {name for name, nodes in self._rooms.items() if self._is_crowded(name, nodes)}

    def of(self, node: Node) -> Iterator[Follower]:
        """What follows a node."""
        for taken in node.needs.equipment:
            if taken.name in self._scarce:
                yield from (Follower(n, taken.until) for n in self._after(node, self._takers[taken.name], taken.until))
        room = node.needs.room
        if room is None:
            return
        nodes, wet = self._rooms.get(room, ()), node.needs.wet_until
        if wet is not None:
            dusty = [other for other in nodes if other.needs.is_dusty]
            coats = [o for o in nodes if o.needs.wet_until and room in self._crowded and self._is_apart(node, o)]
            yield from (Follower(number, wet) for number in self._after(node, [*dusty, *coats], wet))
        if node.needs.is_dusty:
            coats = [other for other in nodes if other.needs.wet_until is not None]
            yield from (Follower(number, None, node.needs.settle) for number in self._after(node, coats, None))

    def _after(self, node: Node, others: list[Node], stage: str | None) -> Iterator[int]:
        """Those of others that start, as planned, after a node has reached a stage."""
        own = self.laid[node.number]
        since = own.end if stage is None else own.stages.get(stage)
        for other in others:
            start = self.laid[other.number].start
            if other is not node and since is not None and start is not None and start >= since:
                yield other.number

    def _asked(self, name: str, nodes: list[Node]) -> int:
        return sum(taken.count for node in nodes for taken in node.needs.equipment if taken.name == name)

    def _is_crowded(self, name: str, nodes: list[Node]) -> bool:
        places = self.places.get(name)
        pieces = {self.graph.piece(node) for node in nodes if node.needs.wet_until is not None}
        return places is not None and len(pieces) > places

    def _is_apart(self, node: Node, other: Node) -> bool:
        return self.graph.piece(node) != self.graph.piece(other)
