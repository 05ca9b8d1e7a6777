"""Laying the builds that have a date backwards from it: operations in reverse order of planned start, each as late as
the rules and what is laid already allow.

Done, running and pinned work of all builds stays where it is planned. Time before now is as good as any, for it tells
how late a build is; so are days before an operation may begin or before what it waits for is really over:
`spans.py` says so.

Where something has to follow closely and the earlier operation finds no place so late, the later one is laid again,
sooner by as much, and all that was laid since with it: the mirror of `moving.py`.

Kept simple:
- Builds without a date are not laid and take nobody's time; only their pins and work in hand do.
- As many people do an operation as in the plan; a layer goes on in the window of the layer below in which it is
  planned, with the same work before it, or as a rescue where it misses them all there.
- A build is laid whole or not at all. It is not where the plan has blocked work in it, where tending or cold leave no
  place within a year before its date, or where what must follow closely cannot be had within 14 days.
  What was laid of it by then still takes its time, so others may come to lie sooner than they would have to.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.planning.backwards.bounds import Behind, Bounds, Lacking, Things
from webapp.planning.backwards.diary import Diary, Mark
from webapp.planning.cold import cold_of
from webapp.planning.cost import due_of
from webapp.planning.graph import Graph, Node
from webapp.planning.holding import Held, Holdings
from webapp.planning.hours import Hours
from webapp.planning.instants import DAY
from webapp.planning.laid import Laid, Piece, clearances, in_slot, layer_below
from webapp.planning.moving import FARTHEST
from webapp.planning.planned import Span
from webapp.planning.progress import Progress
from webapp.planning.roster import Slot, Wanted
from webapp.planning.tending import cut_lead, tending_after
from webapp.trade.air.readings import NEVER

SEARCH = 366 * DAY  # as far back from a date as places are sought
MOVES = 50  # how often one operation is laid sooner for what it has to follow


@dataclass(frozen=True, slots=True)
class _Mark:
    """How things stood right before an operation was laid, and its place in the order."""

    place: int
    diary: Mark
    holdings: Held


def lay_backwards(graph: Graph, planned: Mapping[int, Laid]) -> dict[int, Laid]:
    """Return the builds that have a date laid backwards.

    Takes:   the graph; how the plan lays all of it.
    Returns: the operations of the builds that could be laid, by node; done, running and pinned ones as planned.
    Raises:  nothing.
    Source:  the shop document, `--latest`, in the simple form said above.

    >>> from webapp.planning.network import Build, Document, Opening, Operation, Shop
    >>> from webapp.planning.place import lay_out
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> stool = Build("Stool", (Operation("mill", "mill", 60),), due=1000)
    >>> graph = Graph(Document(0, shop, builds=(stool,)))
    >>> lay_backwards(graph, lay_out(graph, Hours(shop)))[0].slot.spans
    ((940, 1000),)
    """
    hours = Hours(graph.document.shop)
    dues = {number: due for number, build in enumerate(graph.builds) if (due := due_of(build, hours)) is not None}
    blocked = {node.build for node in graph.nodes if planned[node.number].blocked_by is not None}
    dues = {number: due for number, due in dues.items() if number not in blocked}
    if not dues:
        return {}
    layout = _Backwards(graph, planned, dues)
    layout.lay_all()
    return {number: one for number, one in layout.laid.items() if graph.nodes[number].build in layout.dues}


class _Backwards:
    """One layout. Builds that cannot be laid drop out of `dues`."""

    def __init__(self, graph: Graph, planned: Mapping[int, Laid], dues: dict[int, int]) -> None:
        self.graph, self.planned, self.dues = graph, planned, dues
        floor = min([graph.document.now, *dues.values()]) - SEARCH
        hours = Hours(graph.document.shop)
        self.diary, self.holdings = Diary(hours, floor), Holdings(graph, hours)
        self.laid: dict[int, Laid] = {}
        self.behind = Behind(graph, self.laid, planned, floor)
        self.things = Things(self.holdings, self.behind, self.diary)
        self.marks: dict[int, _Mark] = {}
        self.by: dict[int, int] = {}  # of what was laid again, when it has to start
        self.moves: dict[int, int] = {}
        self.firsts: dict[int, int] = {}

    def lay_all(self) -> None:
        """Lay every operation, and some of them again, sooner, for what they have to follow closely."""
        self._keep_what_stays()
        work = [node.number for node in self.graph.nodes if node.may_move and node.build in self.dues]
        work.sort(key=lambda number: (self.planned[number].start or 0, number), reverse=True)
        close = {number for number in work if self._is_close(self.graph.nodes[number])}
        place = 0
        while place < len(work):
            node = self.graph.nodes[work[place]]
            if node.number in close:
                self.marks[node.number] = _Mark(place, self.diary.mark(), self.holdings.mark())
            place = self._lay(node, place, work) if node.build in self.dues else place + 1

    def _is_close(self, node: Node) -> bool:
        """Whether it has to follow something closely that can be moved."""
        return any(self.graph.is_pressing(node, link) and self.graph.nodes[link.to].may_move for link in node.links)

    def _lay(self, node: Node, place: int, work: Sequence[int]) -> int:
        """Lay one operation, all that waits for it being laid, and return where to go on."""
        laid = self._find(node)
        lacking = None if laid is None else self.behind.lacking(node, laid)
        if laid is None or lacking is not None:
            again = None if lacking is None else self._again(lacking, work)
            if again is None:
                del self.dues[node.build]
            return place + 1 if again is None else again
        self._take(node, laid)
        return place + 1

    def _again(self, lacking: Lacking, work: Sequence[int]) -> int | None:
        """Go back to lay an operation sooner; None where it has been moved too far or may not be."""
        number = lacking.follower
        mark, start = self.marks.get(number), self.laid[number].start
        self.moves[number] = self.moves.get(number, 0) + 1
        if mark is None or start is None or self.moves[number] > MOVES:
            return None
        sooner = start - lacking.minutes
        if self.firsts.setdefault(number, start) - sooner > FARTHEST:
            return None
        self.by[number] = sooner
        self.diary.back_to(mark.diary)
        self.holdings.back_to(mark.holdings)
        for later in work[mark.place :]:
            self.laid.pop(later, None)
        return mark.place

    def _keep_what_stays(self) -> None:
        for node in self.graph.nodes:
            laid = self.planned[node.number]
            if not node.may_move and (laid.slot is not None or node.progress is Progress.DONE):
                self._take(node, laid)

    def _take(self, node: Node, laid: Laid) -> None:
        self.laid[node.number] = laid
        self.holdings.take(node, laid)
        for slot in (laid.slot, *(piece.slot for piece in laid.pieces)):
            if slot is not None:
                self.diary.give(slot)

    def _find(self, node: Node) -> Laid | None:
        """An operation as late as it can be, with the work that is put in before it, and its tending."""
        planned = self.planned[node.number]
        bounds = self.behind.bounds(node, self.dues[node.build])
        people = len(planned.slot.people) if planned.slot else 1
        end = min(bounds.end, self._end_by(node))
        if end < self.diary.floor:
            return None
        wanted = Wanted(node.left, node.split, people, self.graph.document.shop.least_minutes)
        wanted = wanted.led_by(planned.lead)
        by = min(self.by.get(node.number, NEVER), self._start_by(node)) - planned.lead.minutes
        place = _Place(self, node, bounds)
        is_long = planned.slot is not None and planned.slot.over_closing
        seek = self.diary.over_closing if is_long else self.diary.latest
        slot = seek(end, wanted, place.sooner, by)
        return None if slot is None else place.laid(slot)

    def _start_by(self, node: Node) -> int:
        """By when it has to start to follow closely what stays where it is."""
        holds = [hold for hold in clearances(node, self.planned, self.graph) if self._stays(hold.link.to)]
        return min((hold.start_by for hold in holds if hold.start_by is not None), default=NEVER)

    def _end_by(self, node: Node) -> int:
        """By when it has to end to lie in its window over a layer that stays where it is."""
        below, laid = layer_below(node, self.graph), self.planned[node.number]
        if below is None or not self._stays(below.to) or laid.missed or laid.window is None:
            return NEVER
        return NEVER if laid.window.end is None else laid.window.end

    def _stays(self, number: int) -> bool:
        return not self.graph.nodes[number].may_move


class _Place:
    """A place for one operation, held against all that people's time does not tell."""

    def __init__(self, layout: _Backwards, node: Node, bounds: Bounds) -> None:
        self.layout, self.node, self.bounds = layout, node, bounds
        self.lead = layout.planned[node.number].lead
        self.cold = cold_of(node, layout.graph)

    def sooner(self, spans: Sequence[Span]) -> int | None:
        """By when to end instead, where something keeps it from lying in some spans."""
        start, end = spans[0][0] + self.lead.minutes, spans[-1][1]
        cold = None if self.cold is None else self.cold.first(start, end)
        found = [self.layout.things.sooner(self.node, spans, self.lead), self._tended(end)[1]]
        if cold is not None and self.cold is not None:
            found.append(cold - self.cold.lasts)
        known = [min(one, end - 1) for one in found if one is not None]
        return min(known, default=None)

    def laid(self, slot: Slot) -> Laid:
        """The operation, laid in a slot that nothing keeps it from."""
        before, own = cut_lead(slot, self.lead)
        tending = self._tended(slot.end)[0]
        planned = self.layout.planned[self.node.number]
        laid = in_slot(self.node, own, self.layout.graph, before, tending)
        return replace(laid, missed=planned.missed, short_of=planned.short_of)

    def _tended(self, end: int) -> tuple[tuple[Piece, ...], int | None]:
        """Its tending, each as early as somebody is free, or the end with which the first that cannot be can."""
        pieces: list[Piece] = []
        for wanted in tending_after(self.node, end):
            by, taken = min(wanted.by, self.bounds.clears - wanted.minutes), [piece.slot for piece in pieces]
            slot = self.layout.diary.first(wanted.at, by, wanted.minutes, taken)
            if slot is None:
                last = self.layout.diary.last(by, wanted.minutes, taken)
                return (), -NEVER if last is None else last - (wanted.at - end)
            pieces.append(Piece(f"{self.node.key}.{wanted.key}", slot, wanted.at, wanted.by))
        return tuple(pieces), None
