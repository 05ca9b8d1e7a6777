"""Laying out operations one after the other, each as early as the rules allow: serial schedule generation.

The order decides everything: an operation takes what those before it have left of people's time. First comes what is
not to be decided any more (done and abandoned work, work that runs, tending of waits that run, pinned work), then all
else in the order given. A search over orders calls `lay_out` again and again; it explains nothing, so it is quick.

Rules in force here: all of the shop document's but 9, which says what order is best. What else than people may forbid a
slot is a `Bar` (`bars.py`); work that something must follow closely is moved for it (`moving.py`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from webapp.planning.bars import Bars
from webapp.planning.cold import SEARCH, Cold, chilled, cold_of, forecast
from webapp.planning.graph import Graph, Node
from webapp.planning.holding import Held, Holdings
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, blocked, cleared, in_slot, layer_below, windows
from webapp.planning.moving import FARTHEST, late
from webapp.planning.network import Build, Pin
from webapp.planning.pinning import pin_starts, pinned_slot
from webapp.planning.progress import Progress
from webapp.planning.roster import Mark, Roster, Slot, Wanted
from webapp.planning.running import lay_done, lay_running
from webapp.planning.tending import cut_lead, give_tending, later_start, lay_tended, tending_after
from webapp.trade.air.readings import NEVER
from webapp.trade.waits.cure import Recoat

PIN_ROUNDS = 5  # how often pinned work is laid again until nothing else makes way for a pin that cannot be kept


def lay_out(graph: Graph, hours: Hours, order: Sequence[int] | None = None) -> dict[int, Laid]:
    """Return all operations of a graph laid out.

    Takes:   the graph; the hours of its shop; the order to keep to, as `Graph.order` gives it (without it, that of the
             document).
    Returns: what was laid, by node.
    Raises:  CircleError when operations wait for each other.
    Source:  the shop document, rules; serial schedule generation as in Kolisch (1996).

    >>> from webapp.planning.network import Build, Document, Opening, Operation, Shop
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> graph = Graph(Document(0, shop, builds=(Build("Stool", (Operation("mill", "mill", 60),)),)))
    >>> lay_out(graph, Hours(shop))[0].slot.spans
    ((480, 540),)
    """
    order = list(graph.order()) if order is None else order
    pins: dict[int, Slot] | None = None
    for _ in range(PIN_ROUNDS):
        layout = _Layout(graph, hours, pins)
        layout.lay_all(order)
        pins = layout.kept_pins()
        if pins == layout.pins:
            break
    return layout.laid


@dataclass(frozen=True, slots=True)
class _Mark:
    """How things stood right before an operation was laid, and its place in the order."""

    place: int
    roster: Mark
    holdings: Held
    reserved: dict[int, Slot]


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
        self.holdings = Holdings(graph, hours)
        self.floors: dict[int, int] = {}
        self.firsts: dict[int, int] = {}
        self.dates = [max(not_before(build, hours) or 0, self.now) for build in graph.builds]
        self.given_up: set[int] = set()
        self.marks: dict[int, _Mark] = {}

    def lay_all(self, order: Iterable[int]) -> None:
        """Lay every operation, and some of them again, later, for what must follow them closely."""
        self.lay_what_is()
        pressed = self.graph.pressed
        work = [number for number in order if number not in self.laid]
        place = 0
        while place < len(work):
            number = work[place]
            if number in pressed:
                self.marks[number] = _Mark(place, self.roster.mark(), self.holdings.mark(), dict(self.reserved))
            self.lay(self.graph.nodes[number])
            back = self._back_to(number, work) if pressed else None
            place = place + 1 if back is None else back

    def _back_to(self, number: int, work: Sequence[int]) -> int | None:
        """Where to go on in the order when an operation comes too late after one that can be moved."""
        found = None if number in self.given_up else late(self.graph.nodes[number], self.laid, self.graph)
        mark = None if found is None else self.marks.get(found.earlier)
        if found is None or mark is None:
            return None
        earlier = self.laid[found.earlier]
        if earlier.slot is None or earlier.from_ is None:
            return None
        node = self.graph.nodes[found.earlier]
        start = max(
            earlier.from_, later_start(earlier.slot, found.minutes, node.split, self.roster) - earlier.lead.minutes
        )
        if start > self.firsts.setdefault(node.number, earlier.from_) + FARTHEST:
            self.given_up.add(number)
            self.floors.pop(node.number, None)
        else:
            self.floors[node.number] = start
        self._undo(mark, work)
        return mark.place

    def _undo(self, mark: _Mark, work: Sequence[int]) -> None:
        self.roster.back_to(mark.roster)
        self.holdings.back_to(mark.holdings)
        self.reserved = dict(mark.reserved)
        for number in work[mark.place :]:
            self.laid.pop(number, None)
            self.at_pin.discard(number)

    def kept_pins(self) -> dict[int, Slot]:
        """Where pinned work came to lie, of all that could keep its pin."""
        found = ((number, self.laid[number].slot) for number in self.laid if self.graph.nodes[number].operation.pinned)
        return {number: slot for number, slot in found if slot is not None and number in self.at_pin}

    def lay_what_is(self) -> None:
        """Lay all that the order does not decide."""
        running = [node for node in self.graph.nodes if node.progress is Progress.RUNNING]
        for node in sorted(running, key=lambda node: (node.operation.started or 0, node.number)):
            self.laid[node.number] = lay_running(node, self.graph, self.roster)
        for node in self.graph.nodes:
            if node.progress is Progress.ABANDONED:
                self.laid[node.number] = Laid(start=node.operation.started)
            elif node.progress is Progress.DONE:
                self.laid[node.number] = lay_done(node, self.graph, self.roster)
        for number, laid in self.laid.items():
            self.holdings.take(self.graph.nodes[number], laid)
        for node in self.graph.nodes:
            if node.progress is Progress.TO_COME and node.operation.pinned is not None:
                self._reserve(node, node.operation.pinned)

    def lay(self, node: Node) -> None:
        """Lay one operation, all that it waits for being laid."""
        reserved = self.reserved.pop(node.number, None)
        if reserved is not None:
            self.roster.take_back(reserved)
            self.holdings.give_back(node)
        clear, blocking = self._cleared(node)
        if blocking is not None:
            self.laid[node.number] = blocked(node, blocking)
            return
        ready = max(clear, self.dates[node.build], self.floors.get(node.number, 0), node.operation.not_before or 0)
        found = self._pinned(node, max(clear, self.now)) or self._lay_warm(node, ready)
        self.laid[node.number] = laid = found or blocked(node, node.number)
        self.holdings.take(node, laid)

    def _cleared(self, node: Node) -> tuple[int, int | None]:
        """When all that an operation waits for is over, and what it waits for in vain.

        In vain: an end that never comes, or a layer that never lets another over it.
        """
        clear = 0
        for link in node.links:
            until = cleared(node, link, self.laid[link.to], self.graph)[1]
            if until is None:
                return clear, link.to
            clear = max(clear, until + link.lag)
        below = self.graph.below.get(node.number)
        return clear, None if below is None or windows(node, self.laid, self.graph) else below.to

    def _wanted(self, node: Node, ready: int) -> tuple[Wanted, int | None]:
        """The work of an operation, and how many people it is given where that is fewer than asked for."""
        asked = node.operation.makers
        people = self.roster.can_meet(ready, asked)
        wanted = Wanted(node.left, node.split, people, self.graph.document.shop.least_minutes)
        return wanted, people if people < asked else None

    def _lay_warm(self, node: Node, ready: int) -> Laid | None:
        """Lay an operation that no pin holds where it stays warm long enough, or else as if it did."""
        cold = cold_of(node, self.graph)
        if cold is None:
            return self._lay_free(node, ready)
        mark = self.roster.mark()
        found = self._lay_free(node, ready)
        chill = None if found is None else forecast(node, found, self.graph)
        if found is None or found.start is None or chill is None:
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
        allowed = windows(node, self.laid, self.graph) if node.number in self.graph.below else ()
        if not allowed:
            return self._find(node, ready, (), Bars(self.holdings, node, cold, by))
        for window in allowed:
            bars = Bars(self.holdings, node, cold, by, window.end)
            found = self._find(node, max(ready, window.begin), window.needs, bars)
            if found is not None:
                return replace(found, window=window)
        return self._rescue(node, ready, allowed[0], Bars(self.holdings, node, cold, by))

    def _rescue(self, node: Node, ready: int, first: Recoat, bars: Bars) -> Laid | None:
        """A layer whose windows are all gone: as early as may be after the first of them began, with the rescue."""
        link = layer_below(node, self.graph)
        lower = None if link is None else self.graph.nodes[link.to].product
        needs = lower.missed_needs if lower else ()
        found = self._find(node, max(ready, first.begin), needs, bars)
        return None if found is None else replace(found, window=first, missed=True)

    def _find(self, node: Node, ready: int, needs: tuple[str, ...], bars: Bars) -> Laid | None:
        """Lay an operation as early as it can be from an instant on, with the work that is needed just before it."""
        before = self.graph.lead(node, needs)
        wanted, short = self._wanted(node, ready)
        if not wanted.people:
            return None
        found = lay_tended(node, ready, wanted.led_by(before), self.roster, bars.bar(before))
        if found is None:
            return None
        pieces, slot = cut_lead(found[0], before)
        laid = in_slot(node, slot, self.graph, pieces, found[1])
        return laid if short is None else replace(laid, short_of=short)

    def _pinned(self, node: Node, order: int) -> Laid | None:
        """Lay an operation where the maker fixed it, unless its build's order does not let it start then."""
        pin = node.operation.pinned
        if pin is None:
            return None
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
        inside = next((window for window in allowed if window.holds(slot.start, slot.end)), None)
        laid = in_slot(node, slot, self.graph, tending=tending)
        return replace(
            chilled(node, laid, forecast(node, laid, self.graph), self.now),
            short_of=short,
            window=inside or next(iter(allowed), None),
            missed=bool(allowed) and inside is None,
        )

    def _reserve(self, node: Node, pin: Pin) -> None:
        """Keep the time and the things of pinned work until its turn comes, so that nothing else is laid over it."""
        slot = self.pins.get(node.number)
        start = pin_starts(pin, self.now, self.hours) if self.is_first else None
        if start is not None:
            slot, _ = pinned_slot(node, pin, start, self.roster)
        if slot is not None:
            self.pins[node.number] = slot
            self.reserved[node.number] = slot
            self.roster.give(slot)
            self.holdings.take(node, in_slot(node, slot, self.graph))
