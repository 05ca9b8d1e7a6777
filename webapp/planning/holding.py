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
        needs, operation = node.needs, node.operation
        if operation.abandoned is not None and operation.started is not None and needs.room is not None:
            if needs.is_dusty:
                dusty = Hold(operation.started, operation.abandoned, node.number)
                self.dusty.setdefault(needs.room, []).append(dusty)
            return
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

    def give_back(self, node: Node) -> None:
        """Give back all that an operation took."""
        for held in (self.equipment, self.wet, self.dusty):
            for name, holds in held.items():
                held[name] = [hold for hold in holds if hold.node != node.number]

    def in_the_way(self, node: Node, spans: Sequence[Span], lead: Lead = NO_LEAD) -> InTheWay | None:
        """Return what does not let an operation lie in some spans, the last to clear.

        Takes:   the node, whose own holds are not among those taken; the spans of its work, with what is put in before
                 it; that lead.
        Returns: None where nothing does; else with the instant from which on that may let it begin.
        Raises:  nothing.
        Source:  the shop document, rules 5 and 6.
        """
        found = self._ways(node, spans, lead, None)
        return max(found, key=lambda way: way.until) if found else None

    def ways(self, node: Node, spans: Sequence[Span], lead: Lead) -> list[InTheWay]:
        """All that does not let an operation that is laid already lie somewhere else."""
        return self._ways(node, spans, lead, node.number)

    def _ways(self, node: Node, spans: Sequence[Span], lead: Lead, but: int | None) -> list[InTheWay]:
        needs, found = node.needs, list[InTheWay]()
        after = lead.minutes if lead.pieces else 0
        start, end = spans[0][0] + after, spans[-1][1]
        for taken in needs.equipment:
            until = end if taken.until is None else self._back(taken, self._ends(node, taken.until, end), end)
            free = self.there.get(taken.name, 0) - taken.count
            met = _met(self.equipment.get(taken.name, ()), start, until, but)
            if _count(met) > free:
                found += _last_over(Why.EQUIPMENT, met, until, free, _count, after)
        if needs.room is None:
            return found
        if needs.wet_until is not None:
            dry = self._ends(node, needs.wet_until, end).get(needs.wet_until) or end
            found += self._no_place(node, start, dry, but, after)
            dusty = _met(self.dusty.get(needs.room, ()), start - needs.settle, dry, but)
            found += [InTheWay(Why.DUST, hold.until + needs.settle - after, hold.node) for hold in dusty]
        wet = self.wet.get(needs.room)
        if wet and needs.is_dusty:
            found += self._spoils(wet, needs.settle, ((start, end),) if lead.pieces else spans, after, but)
        if wet and lead.pieces:
            found += self._lead_spoils(wet, needs.settle, lead, spans[0][0], but)
        return found

    def _no_place(self, node: Node, start: int, dry: int, but: int | None, after: int) -> list[InTheWay]:
        """Layers of one piece take one place between them."""
        places = self.places.get(node.needs.room or "")
        if places is None:
            return []
        piece = self.graph.piece(node)
        met = [hold for hold in _met(self.wet.get(node.needs.room or "", ()), start, dry, but) if hold.piece != piece]
        if _pieces(met) < places:
            return []
        return _last_over(Why.ROOM, met, dry, places - 1, _pieces, after)

    def _lead_spoils(
        self, wet: Sequence[Hold], settle: int, lead: Lead, begin: int, but: int | None
    ) -> Iterator[InTheWay]:
        """Wet coats that dusty work put in before a layer would spoil."""
        at = begin
        for (_, minutes), dusts in zip(lead.pieces, lead.dusty, strict=True):
            if dusts:
                yield from self._spoils(wet, settle, ((at, at + minutes),), at - begin, but)
            at += minutes

    @staticmethod
    def _spoils(
        wet: Sequence[Hold], settle: int, spans: Sequence[Span], after: int, but: int | None
    ) -> Iterator[InTheWay]:
        """Wet coats that the dust of work in some spans would spoil; the work begins so long after what is laid."""
        last = spans[-1][1] + settle
        for hold in _met(wet, spans[0][0], last, but):
            if any(begin < hold.until and end > hold.begin - settle for begin, end in spans):
                yield InTheWay(Why.DUST, hold.until - after, hold.node)

    def _ends(self, node: Node, stage: str, end: int) -> Mapping[str, int | None]:
        """When a stage is reached, did the work end at an instant."""
        return self.graph.ends(node, node.began(end), stage)

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


def _met(holds: Sequence[Hold], start: int, end: int, but: int | None) -> list[Hold]:
    """The holds that meet a span, those of one operation apart."""
    return [hold for hold in holds if hold.until > start and hold.begin < end and hold.node != but]


def _last_over(
    why: Why, met: Sequence[Hold], end: int, free: int, count: Callable[[Sequence[Hold]], int], after: int
) -> list[InTheWay]:
    """The last moment before an instant at which more than `free` is held, where there is one."""
    for moment in sorted({min(hold.until, end) for hold in met}, reverse=True):
        held = [hold for hold in met if hold.begin < moment <= hold.until]
        if count(held) > free:
            last = min(held, key=lambda hold: hold.until)
            return [InTheWay(why, last.until - after, last.node)]
    return []
