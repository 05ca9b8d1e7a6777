"""Laying out operations one after the other, each as early as the rules allow: serial schedule generation.

The order decides everything: an operation takes what those before it have left of people's time. First comes what is
not to be decided any more (done and abandoned work, work that runs, tending of waits that run, pinned work), then all
else in the order given. A search over orders calls `lay_out` again and again; it explains nothing, so it is quick.

Rules in force here: 1 hours, 2 and 3 waits over the air of their room, 4 cold, 7 recoat windows as far as the layer
below may stay where it is, 8 tending, 10 work in hand, 11. What else may forbid a slot is a `Bar` made in
`_Layout._find`: equipment, drying places and dust belong there too. Moving an earlier operation for what must follow it
(rule 8, `within_minutes`; rule 7, the lower layer) belongs around it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from webapp.planning.cold import SEARCH, Cold, chilled, cold_of, forecast, judged
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.laid import Clearance, Laid, clearances, layer_below, windows
from webapp.planning.network import Build, Pin
from webapp.planning.pinning import pin_starts, pinned_slot
from webapp.planning.planned import Span
from webapp.planning.progress import Progress
from webapp.planning.roster import NO_BAR, Bar, Roster, Slot, Wanted
from webapp.planning.running import go_on
from webapp.planning.tending import cut_lead, give_tending, lay_tended, tending_after
from webapp.trade.air.readings import NEVER
from webapp.trade.waits.cure import Recoat, paced_ends

PIN_ROUNDS = 5  # how often pinned work is laid again until nothing else makes way for a pin that cannot be kept


def lay_out(graph: Graph, hours: Hours, order: Sequence[int] | None = None) -> dict[int, Laid]:
    """Return all operations of a graph laid out.

    Takes:   the graph; the hours of its shop; the order to keep to, all nodes once (without it, that of the document).
    Returns: what was laid, by node.
    Raises:  CircleError when operations wait for each other.
    Source:  the shop document, rules; serial schedule generation as in Kolisch (1996).

    >>> from webapp.planning.network import Build, Document, Opening, Operation, Shop
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> graph = Graph(Document(0, shop, builds=(Build("Stool", (Operation("mill", "mill", 60),)),)))
    >>> lay_out(graph, Hours(shop))[0].slot.spans
    ((480, 540),)
    """
    order = list(graph.order(order))
    pins: dict[int, Slot] | None = None
    for _ in range(PIN_ROUNDS):
        layout = _Layout(graph, hours, pins)
        layout.lay_all(order)
        pins = layout.kept_pins()
        if pins == layout.pins:
            break
    return layout.laid


@dataclass(frozen=True, slots=True)
class _Bars:
    """What work is to keep away from while it is laid: cold, an instant to begin before, one to end by."""

    cold: Cold | None = None
    begin_before: int = NEVER
    end_by: int | None = None

    def bar(self, lead: int) -> Bar:
        """The same for the roster, the first minutes of the work being put in before it."""
        if self.cold is None and self.end_by is None:
            return NO_BAR
        by = self.begin_before if self.end_by is None else min(self.begin_before, self.end_by)
        chilly = None if self.cold is None else self.cold.later(lead)

        def later(spans: Sequence[Span]) -> int | None:
            if self.end_by is not None and spans[-1][1] > self.end_by:
                return by
            return None if chilly is None else chilly(spans)

        return Bar(later, by)


def not_before(build: Build, hours: Hours) -> int | None:
    """When a build may begin: its instant, or the midnight that begins its date."""
    when = build.not_before
    return when if when is None or isinstance(when, int) else hours.midnight(when)


class _Layout:
    """One layout. `pins` are the slots kept for pinned work; without them, where it would lie if its order allowed."""

    def __init__(self, graph: Graph, hours: Hours, pins: dict[int, Slot] | None) -> None:
        self.graph, self.hours = graph, hours
        self.at_pin: set[int] = set()
        self.now = graph.document.now
        self.roster = Roster(hours)
        self.laid: dict[int, Laid] = {}
        self.pins: dict[int, Slot] = {} if pins is None else pins
        self.reserved: dict[int, Slot] = {}
        self.is_first = pins is None

    def lay_all(self, order: Iterable[int]) -> None:
        """Lay every operation."""
        self.lay_what_is()
        for number in order:
            if number not in self.laid:
                self.lay(self.graph.nodes[number])

    def kept_pins(self) -> dict[int, Slot]:
        """Where pinned work came to lie, of all that could keep its pin."""
        found = ((number, self.laid[number].slot) for number in self.laid if self.graph.nodes[number].operation.pinned)
        return {number: slot for number, slot in found if slot is not None and number in self.at_pin}

    def lay_what_is(self) -> None:
        """Lay all that the order does not decide."""
        running = [node for node in self.graph.nodes if node.progress is Progress.RUNNING]
        for node in sorted(running, key=lambda node: (node.operation.started or 0, node.number)):
            self._go_on(node)
        for node in self.graph.nodes:
            if node.progress is Progress.ABANDONED:
                self.laid[node.number] = Laid(start=node.operation.started)
            elif node.progress is Progress.DONE:
                self._lay_done(node)
        for node in self.graph.nodes:
            if node.progress is Progress.TO_COME and node.operation.pinned is not None:
                self._reserve(node, node.operation.pinned)

    def lay(self, node: Node) -> None:
        """Lay one operation, all that it waits for being laid."""
        reserved = self.reserved.pop(node.number, None)
        if reserved is not None:
            self.roster.take_back(reserved)
        holds = clearances(node, self.laid, self.graph)
        blocking = self._blocking(node, holds)
        if blocking is not None:
            self.laid[node.number] = _blocked(node, blocking)
            return
        found = self._pinned(node, holds) or self._lay_warm(node, self._ready(node, holds))
        self.laid[node.number] = found or _blocked(node, node.number)

    def _blocking(self, node: Node, holds: Iterable[Clearance]) -> int | None:
        """What an operation waits for in vain: an end that never comes, or a layer that never lets another over it."""
        for hold in holds:
            if hold.until is None:
                return hold.link.to
        link = layer_below(node, self.graph)
        return link.to if link is not None and not windows(node, self.laid, self.graph) else None

    def _ready(self, node: Node, holds: Iterable[Clearance]) -> int:
        """From when on an operation may start, whoever is in."""
        dates = [not_before(self.graph.builds[node.build], self.hours), node.operation.not_before]
        return max([self.now, *(d for d in dates if d is not None), *(h.until for h in holds if h.until is not None)])

    def _wanted(self, node: Node, ready: int) -> tuple[Wanted, int | None]:
        """The work of an operation, and how many people it is given where that is fewer than asked for."""
        asked = node.operation.makers
        people = self.roster.can_meet(ready, asked)
        least = self.graph.document.shop.least_minutes
        return Wanted(node.left, node.split, people, least), people if people < asked else None

    def _lay_warm(self, node: Node, ready: int) -> Laid | None:
        """Lay an operation that no pin holds where it stays warm long enough, or else as if it did."""
        cold = cold_of(node, self.graph)
        mark = None if cold is None else self.roster.mark()
        found = self._lay_free(node, ready)
        chill = None if found is None else forecast(node, found, self.graph)
        if cold is None or mark is None or found is None or found.start is None or chill is None:
            return found
        self.roster.back_to(mark)
        warm = self._lay_free(node, ready, cold, found.start + SEARCH)
        if warm is not None:
            return warm
        found = self._lay_free(node, ready)
        return None if found is None else chilled(node, found, chill, self.now)

    def _lay_free(self, node: Node, ready: int, cold: Cold | None = None, by: int = NEVER) -> Laid | None:
        """Lay an operation inside a window of the layer below, or else where it can first be.

        `cold` is what it is to keep away from; then it is begun before `by` or not laid at all.
        """
        allowed = windows(node, self.laid, self.graph)
        if not allowed:
            return self._find(node, ready, (), _Bars(cold, by))
        for window in allowed:
            bars = _Bars(cold, by, window.end)
            found = self._find(node, max(ready, window.begin), window.needs, bars)
            if found is not None:
                return replace(found, window=window)
        return self._rescue(node, ready, allowed[0], _Bars(cold, by))

    def _rescue(self, node: Node, ready: int, first: Recoat, bars: _Bars) -> Laid | None:
        """A layer whose windows are all gone: as early as may be after the first of them began, with the rescue."""
        link = layer_below(node, self.graph)
        lower = None if link is None else self.graph.nodes[link.to].product
        needs = lower.missed_needs if lower else ()
        found = self._find(node, max(ready, first.begin), needs, bars)
        return None if found is None else replace(found, window=first, missed=True)

    def _find(self, node: Node, ready: int, needs: Iterable[str], bars: _Bars) -> Laid | None:
        """Lay an operation as early as it can be from an instant on, with the work that is needed just before it."""
        link = layer_below(node, self.graph)
        before = [] if link is None else self.graph.inserted(node, link, needs)
        wanted, short = self._wanted(node, ready)
        if not wanted.people:
            return None
        lead = sum(minutes for _, minutes in before)
        if before:
            wanted = replace(wanted, minutes=wanted.minutes + lead, split=False)
        found = lay_tended(node, ready, wanted, self.roster, bars.bar(lead))
        if found is None:
            return None
        pieces, slot = cut_lead(found[0], before)
        return replace(self._laid(node, slot), before=pieces, tending=found[1], short_of=short).with_clears()

    def _laid(self, node: Node, slot: Slot) -> Laid:
        return self._waiting(node, Laid(start=slot.start, end=slot.end, clears=slot.end, slot=slot), slot.end)

    def _waiting(self, node: Node, laid: Laid, ended: int) -> Laid:
        operation = node.operation
        began = ended if operation.wait_began is None else operation.wait_began
        stages = paced_ends(began, node.waits, operation.reached, self.now, self.graph.air(node)) if node.waits else {}
        return replace(laid, began=began, stages=stages)

    def _pinned(self, node: Node, holds: Sequence[Clearance]) -> Laid | None:
        """Lay an operation where the maker fixed it, unless its build's order does not let it start then."""
        pin = node.operation.pinned
        if pin is None:
            return None
        order = max([self.now, *(hold.until for hold in holds if hold.until is not None)])
        start = pin_starts(pin, order, self.hours)
        if start is None:
            return None
        slot, short = pinned_slot(node, pin, start, self.roster)
        if slot is None:
            return None
        self.at_pin.add(node.number)
        self.roster.give(slot)
        tending, _ = give_tending(node, tending_after(node, slot.end), slot.end, self.roster)
        allowed = windows(node, self.laid, self.graph)
        inside = next((w for w in allowed if w.begin <= slot.start and (w.end is None or slot.end <= w.end)), None)
        laid = self._laid(node, slot)
        return replace(
            chilled(node, laid, forecast(node, laid, self.graph), self.now),
            tending=tending,
            short_of=short,
            window=inside or next(iter(allowed), None),
            missed=bool(allowed) and inside is None,
        ).with_clears()

    def _reserve(self, node: Node, pin: Pin) -> None:
        """Keep the time of pinned work until its turn comes, so that nothing else is laid over it."""
        slot = self.pins.get(node.number)
        start = pin_starts(pin, self.now, self.hours) if self.is_first else None
        if start is not None:
            slot, _ = pinned_slot(node, pin, start, self.roster)
        if slot is not None:
            self.pins[node.number] = slot
            self.reserved[node.number] = slot
            self.roster.give(slot)

    def _go_on(self, node: Node) -> None:
        slot, short = go_on(node, self.now, self.roster)
        if slot is None:
            self.laid[node.number] = replace(_blocked(node, node.number), start=node.operation.started)
            return
        self.roster.give(slot)
        tending, _ = give_tending(node, tending_after(node, slot.end), slot.end, self.roster)
        start = node.operation.started or slot.start
        laid = replace(self._laid(node, slot), start=start, tending=tending, short_of=short)
        self.laid[node.number] = self._judged(node, laid, start, slot.end).with_clears()

    def _judged(self, node: Node, laid: Laid, start: int, end: int) -> Laid:
        """Work that has begun, with the cold it has met or is to meet."""
        return chilled(node, laid, judged(node, start, end, self.graph), self.now)

    def _lay_done(self, node: Node) -> None:
        operation = node.operation
        end = operation.finished or 0
        open_ = tuple(tending for tending in tending_after(node, end) if tending.by >= self.now)
        tending, _ = give_tending(node, open_, self.now, self.roster)
        laid = self._waiting(node, Laid(start=operation.started, end=end, clears=end, tending=tending), end)
        start = end if operation.started is None else operation.started
        self.laid[node.number] = self._judged(node, laid, start, end).with_clears()


def _blocked(node: Node, by: int) -> Laid:
    return Laid(stages=dict.fromkeys(node.stage_names), blocked_by=by)
