"""What is wrong with a plan, in sentences with the numbers and a way out."""

from collections.abc import Iterator, Mapping

from webapp.planning.air_flags import AirFlagger
from webapp.planning.graph import Graph, Node
from webapp.planning.holding import Holdings
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, Piece, clearances
from webapp.planning.planned import Flag, FlagName, Why
from webapp.planning.progress import Progress
from webapp.planning.roster import Slot
from webapp.planning.wording import named, people, span, when


class Flagger:
    """Flags the operations and builds of one layout."""

    def __init__(self, graph: Graph, hours: Hours, laid: Mapping[int, Laid], holdings: Holdings) -> None:
        self.graph, self.hours, self.laid, self.holdings = graph, hours, laid, holdings
        self.zone = hours.zone
        self.air = AirFlagger(graph, hours.zone)

    def of_node(self, node: Node) -> tuple[Flag, ...]:
        """All that is wrong with one operation."""
        laid = self.laid[node.number]
        found = [*self._blocked(node, laid), *self._early(node), *self._short(node, laid), *self._scarce(node, laid)]
        if laid.slot is not None:
            found += self._over_closing(named(node.operation), laid.slot)
        found += [*self._window(node, laid), *self._follows_late(node, laid)]
        return (*found, *self.air.of_node(node, laid))

    def of_tending(self, node: Node, piece: Piece) -> tuple[Flag, ...]:
        """All that is wrong with the tending of an operation."""
        found = list(self._over_closing(f'"{piece.key}"', piece.slot))
        if not piece.missed or piece.at is None or piece.by is None:
            return tuple(found)
        says = (
            f"{named(node.operation)} wants this between {self._when(piece.at)} and {self._when(piece.by)}, but nobody "
            f"is free before {self._when(piece.slot.start)}. Start it at another time, or open then."
        )
        return (*found, Flag(FlagName.WINDOW_MISSED, says, piece.by))

    def late(self, name: str, finish: int, due: int) -> Flag:
        """A build that would be done after its due."""
        says = (
            f"{name} would be done {self._when(finish)}, {span(finish - due)} after its date, {self._when(due)}. "
            f"Agree on {self._when(finish)[:-6]} or later, put other builds behind it, or add hours before then."
        )
        return Flag(FlagName.LATE, says, due)

    def _when(self, instant: int) -> str:
        return when(instant, self.zone)

    def _blocked(self, node: Node, laid: Laid) -> Iterator[Flag]:
        if laid.blocked_by is None:
            return
        name, other = named(node.operation), self.graph.nodes[laid.blocked_by]
        if other is node:
            says = (
                f"{name} needs {span(node.left)} of work and finds no hours for it in the next ten years. "
                "Give the shop or its makers more hours."
            )
        elif other.progress is Progress.ABANDONED:
            says = (
                f"{name} waits for {named(other.operation)}, which was abandoned {self._abandoned(other)}. "
                f"Add an operation that does {named(other.operation)} again, or take out the link."
            )
        else:
            says = f"{name} {self._vain(other)} {self._root(other)}"
        yield Flag(FlagName.BLOCKED, says, self.graph.document.now)

    def _vain(self, other: Node) -> str:
        """Why there is no waiting for an operation."""
        name, laid = named(other.operation), self.laid[other.number]
        if laid.is_spoilt:
            return f"waits for {name}, which the cold would spoil or has spoilt."
        if laid.end is not None:
            return f"waits for {name} to dry or set, which in this air is not reached within 365 days."
        return f"waits for {name}, which has no end yet."

    def _abandoned(self, node: Node) -> str:
        at = node.operation.abandoned
        return "" if at is None else self._when(at)

    def _root(self, node: Node) -> str:
        """What to mend so that an operation gets an end, where something further back blocks it."""
        passed = {node.number}
        while True:
            by = self.laid[node.number].blocked_by
            if by is None or by in passed:
                name = named(node.operation)
                is_slow = self.laid[node.number].end is not None and not self.laid[node.number].is_spoilt
                return (
                    f"Make it warmer around {name}, or say that it is tested." if is_slow else f"See to {name} first."
                )
            passed.add(by)
            node = self.graph.nodes[by]

    def _early(self, node: Node) -> Iterator[Flag]:
        """Work that really started before what it waits for was over."""
        started = node.operation.started
        if started is None:
            return
        for hold in clearances(node, self.laid, self.graph):
            other = named(self.graph.nodes[hold.link.to].operation)
            if hold.until is not None and hold.until > started:
                what = f"{other} is {hold.link.stage}" if hold.link.stage else f"{other} is done"
                says = (
                    f"{named(node.operation)} was started {self._when(started)}, {span(hold.until - started)} before "
                    f"{what} ({self._when(hold.until)}). Look at it again before you build on it."
                )
                yield Flag(FlagName.TOO_EARLY, says, started)
                return

    def _short(self, node: Node, laid: Laid) -> Iterator[Flag]:
        if laid.short_of is None or laid.start is None:
            return
        says = (
            f"{named(node.operation)} asks for {people(node.operation.makers)}, but only {people(laid.short_of)} "
            f"can be there together. Ask for help {self._when(laid.start)}, or plan it for {laid.short_of}."
        )
        yield Flag(FlagName.MAKER_SHORT, says, laid.start)

    def _scarce(self, node: Node, laid: Laid) -> Iterator[Flag]:
        if laid.slot is None or laid.start is None:
            return
        for taken in node.needs.equipment:
            if taken.is_short:
                says = (
                    f"{named(node.operation)} asks for {taken.asked} {taken.name}, but there are {taken.count}. "
                    f"Get {taken.asked - taken.count} more, or do it in parts."
                )
                yield Flag(FlagName.EQUIPMENT_SHORT, says, laid.start)
        if node.operation.pinned is None or not node.needs.equipment:
            return
        for way in self.holdings.ways(node, laid.slot.spans, laid.lead):
            if way.why is Why.EQUIPMENT:
                says = (
                    f"{named(node.operation)} is fixed to {self._when(laid.start)}, when other work has what it takes "
                    f"until {self._when(way.until)}. Fix one of them to another time, or get more."
                )
                yield Flag(FlagName.EQUIPMENT_SHORT, says, laid.start)
                return

    def _over_closing(self, name: str, slot: Slot) -> Iterator[Flag]:
        if not slot.over_closing:
            return
        closing = self.hours.together(slot.people).closing(slot.start)
        if closing is None or not self.hours.together(slot.people).is_open(slot.start):
            says = (
                f"{name} runs from {self._when(slot.start)} to {self._when(slot.end)}, when nobody is in. "
                "Add these hours, or move it."
            )
            yield Flag(FlagName.LONGER_THAN_SHOP_HOURS, says, slot.start)
            return
        says = (
            f"{name} takes {span(slot.end - slot.start)} in one piece and runs to {self._when(slot.end)}, "
            f"{span(max(slot.end - closing, 0))} past closing. Stay later that day, or let it be done in parts."
        )
        yield Flag(FlagName.LONGER_THAN_SHOP_HOURS, says, closing)

    def _window(self, node: Node, laid: Laid) -> Iterator[Flag]:
        if not laid.missed or laid.start is None:
            return
        lower = next(named(self.graph.nodes[link.to].operation) for link in node.links if link.over)
        says = (
            f"{named(node.operation)} misses every span in which it may go over {lower}; it can start "
            f"{self._when(laid.start)} at the earliest. Scuff {lower} well first and try it on a hidden spot."
        )
        yield Flag(FlagName.WINDOW_MISSED, says, laid.start)

    def _follows_late(self, node: Node, laid: Laid) -> Iterator[Flag]:
        if node.progress is not Progress.TO_COME or laid.start is None:
            return
        for hold in clearances(node, self.laid, self.graph):
            last = hold.start_by
            if last is not None and laid.start > last:
                other = named(self.graph.nodes[hold.link.to].operation)
                says = (
                    f"{named(node.operation)} must start by {self._when(last)}, {span(hold.link.within or 0)} after "
                    f"{other}, but cannot before {self._when(laid.start)}. Do {other} later, close to it."
                )
                yield Flag(FlagName.WINDOW_MISSED, says, last)
