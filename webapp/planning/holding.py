"""What work and waits hold beside people: equipment, places to dry, the air of a room that must be clean.

Each thing is a list of holds, from when until when and whose. Asked about work somewhere, it says from when on to try
again, and who is in the way: so the search moves on by whole holds, and the reason for a date is at hand.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid
from webapp.planning.needs import NO_LEAD, Lead, Taken
from webapp.planning.planned import Span, Why
from webapp.planning.progress import Progress
from webapp.trade.waits.cure import paced_ends

Held = tuple[Mapping[str, list["Hold"]], ...]


@dataclass(frozen=True, slots=True)
class Hold:
    """So many of a thing, held from an instant until another by an operation (or a piece of several layers)."""

    begin: int
    until: int
    node: int
    count: int = 1
    piece: int = 0


@dataclass(frozen=True, slots=True)
class InTheWay:
    """What does not let work be somewhere: which rule, until when, and whose hold it is."""

    why: Why
    until: int
    node: int | None = None


class Holdings:
    """All that is held in one layout."""

    def __init__(self, graph: Graph, hours: Hours) -> None:
        self.graph, self.hours = graph, hours
        self.there = {equipment.name: equipment.count for equipment in graph.document.shop.equipment}
        self.places = {room.name: room.drying_places for room in graph.document.shop.rooms}
        self.equipment: dict[str, list[Hold]] = {}
        self.wet: dict[str, list[Hold]] = {}
        self.dusty: dict[str, list[Hold]] = {}

    def mark(self) -> Held:
        """What is held so far, to come back to."""
        kept = (self.equipment, self.wet, self.dusty)
        return tuple({name: list(holds) for name, holds in held.items()} for held in kept)

    def back_to(self, mark: Held) -> None:
        """Give back all that was taken since a mark."""
        self.equipment, self.wet, self.dusty = ({name: list(holds) for name, holds in held.items()} for held in mark)

    def take(self, node: Node, laid: Laid) -> None:
        """Take what an operation holds where it is laid."""
        needs = node.needs
        if laid.start is None or laid.end is None or not (needs.any or laid.before):
            return
        for taken in needs.equipment:
            until = self._back(taken, laid.stages, laid.end)
            self.equipment.setdefault(taken.name, []).append(Hold(laid.start, until, node.number, taken.count))
        if needs.room is None:
            return
        if needs.wet_until is not None:
            until = laid.stages.get(needs.wet_until) or laid.end
            piece = self.graph.piece(node)
            self.wet.setdefault(needs.room, []).append(Hold(laid.start, until, node.number, piece=piece))
        spans = list(self._dusty_spans(node, laid))
        if spans:
            self.dusty.setdefault(needs.room, []).extend(Hold(*span, node.number) for span in spans)

    def in_the_way(
        self, node: Node, spans: Sequence[Span], lead: Lead = NO_LEAD, *, own: bool = False
    ) -> InTheWay | None:
        """Return what does not let an operation lie in some spans, the last to clear.

        Takes:   the node; the spans of its work, with what is put in before it; that lead; whether its own holds are
                 among those taken, and are to be passed over.
        Returns: None where nothing does; else with the instant from which on that may let it begin.
        Raises:  nothing.
        Source:  the shop document, rules 5 and 6.
        """
        but = node.number if own else None
        found = list(self._ways(node, spans, lead, but))
        return max(found, key=lambda way: way.until) if found else None

    def ways(self, node: Node, spans: Sequence[Span], lead: Lead) -> Iterator[InTheWay]:
        """All that does not let an operation that is laid already lie somewhere else."""
        return self._ways(node, spans, lead, node.number)

    def _ways(self, node: Node, spans: Sequence[Span], lead: Lead, but: int | None) -> Iterator[InTheWay]:
        needs = node.needs
        start, end = spans[0][0] + lead.minutes, spans[-1][1]
        for taken in needs.equipment:
            until = self._back(taken, self._ends(node, taken.until, end), end)
            free = self.there.get(taken.name, 0) - taken.count
            yield from self._too_few(self.equipment.get(taken.name, ()), (start, until), free, but, lead)
        if needs.room is None:
            return
        if needs.wet_until is not None:
            dry = self._ends(node, needs.wet_until, end).get(needs.wet_until) or end
            yield from self._no_place(node, (start, dry), but, lead)
            dusty = (h for h in self.dusty.get(needs.room, ()) if h.node != but)
            in_air = [h for h in dusty if h.begin < dry and h.until + needs.settle > start]
            yield from (InTheWay(Why.DUST, h.until + needs.settle - lead.minutes, h.node) for h in in_air)
        if needs.is_dusty:
            yield from self._spoils(node, spans if not lead.pieces else ((start, end),), lead.minutes, but)
        at = spans[0][0]
        for (_, minutes), dusts in zip(lead.pieces, lead.dusty, strict=True):
            if dusts:
                yield from self._spoils(node, ((at, at + minutes),), at - spans[0][0], but)
            at += minutes

    def _too_few(self, holds: Sequence[Hold], span: Span, free: int, but: int | None, lead: Lead) -> Iterator[InTheWay]:
        """The last moment of a span at which more than `free` is held, if there is one."""
        met = [h for h in holds if h.begin < span[1] and h.until > span[0] and h.node != but]
        if _count(met) > free:
            yield from _last_over(Why.EQUIPMENT, met, span, free, _count, lead.minutes)

    def _no_place(self, node: Node, span: Span, but: int | None, lead: Lead) -> Iterator[InTheWay]:
        """Layers of one piece take one place between them."""
        places = self.places.get(node.needs.room or "")
        if places is None:
            return
        piece = self.graph.piece(node)
        met = [
            h
            for h in self.wet.get(node.needs.room or "", ())
            if h.begin < span[1] and h.until > span[0] and h.node != but and h.piece != piece
        ]
        if len(met) >= places:
            yield from _last_over(
                Why.ROOM, met, span, places - 1, lambda held: len({h.piece for h in held}), lead.minutes
            )

    def _spoils(self, node: Node, spans: Sequence[Span], after: int, but: int | None) -> Iterator[InTheWay]:
        """Wet coats that the dust of work in some spans would spoil; the work begins so long after what is laid."""
        settle = node.needs.settle
        for hold in self.wet.get(node.needs.room or "", ()):
            if hold.node != but and any(b < hold.until and e > hold.begin - settle for b, e in spans):
                yield InTheWay(Why.DUST, hold.until - after, hold.node)

    def _ends(self, node: Node, stage: str | None, end: int) -> Mapping[str, int | None]:
        """When a stage is reached, did the work end at an instant."""
        waits = [wait for wait in node.waits if wait.name == stage]
        began = end if node.operation.wait_began is None else node.operation.wait_began
        air, now = self.graph.air(node), self.graph.document.now
        return paced_ends(began, waits, node.operation.reached, now, air) if waits else {}

    def _back(self, taken: Taken, stages: Mapping[str, int | None], end: int) -> int:
        """When equipment is given back: when somebody is in to take it off."""
        if taken.until is None:
            return end
        reached = stages.get(taken.until)
        since = end if reached is None else max(reached, end)
        return self.hours.anyone_in(since) or since

    def _dusty_spans(self, node: Node, laid: Laid) -> Iterator[Span]:
        for piece in laid.before:
            if piece.is_dusty:
                yield from piece.slot.spans
        if not node.needs.is_dusty or laid.start is None or laid.end is None:
            return
        if node.progress is Progress.DONE:
            yield laid.start, laid.end
        elif laid.slot is not None:
            if laid.start < laid.slot.start:
                yield laid.start, min(laid.slot.start, self.graph.document.now)
            yield from laid.slot.spans


def _count(holds: Sequence[Hold]) -> int:
    return sum(hold.count for hold in holds)


def _pieces(holds: Sequence[Hold]) -> int:
    return len({hold.piece for hold in holds})


def _last_over(
    why: Why, met: Sequence[Hold], span: Span, free: int, count: Callable[[Sequence[Hold]], int], lead: int
) -> Iterator[InTheWay]:
    for moment in sorted({min(hold.until, span[1]) for hold in met}, reverse=True):
        held = [hold for hold in met if hold.begin < moment <= hold.until]
        if count(held) > free:
            last = min(held, key=lambda hold: hold.until)
            yield InTheWay(why, last.until - lead, last.node)
            return
