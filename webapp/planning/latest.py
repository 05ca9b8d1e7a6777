"""The latest start of each operation: how long it may be put off before a build ends too late.

What follows an operation, by link, on the same person or on what it holds, moves right with it in the planned order;
all else stands still. So one pass from the last operation back gives every latest start at once: each has to clear
before the latest start of whatever follows it, and of what ends a build, before that build's limit: its planned finish,
or its due where that is later. People stay as planned.

Kept simple, and never too late: work that is running, done, or longer than any opening stays where it is planned; an
operation that must start within some time of another, or inside a recoat window, does not move past where the other,
as planned, lets it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.planning.cold import cold_of
from webapp.planning.following import Following
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, clearances, layer_below
from webapp.planning.network import Pin
from webapp.planning.openings import Openings
from webapp.planning.planned import Span
from webapp.planning.progress import Progress
from webapp.planning.roster import Slot
from webapp.trade.waits.cure import Paced, began_by, opening, paced_ends

_Place = tuple[int, str]  # node, key of the work


@dataclass(frozen=True, slots=True)
class _Bar:
    """Work on people, in planned order: a node's own, its tending, or what is put in before it."""

    place: _Place
    slot: Slot
    at: int | None = None  # minutes after the node's end, of tending
    within: int = 0


def latest_starts(graph: Graph, hours: Hours, laid: Mapping[int, Laid], limits: Mapping[int, int]) -> dict[int, int]:
    """Return the latest start of each operation that is still to come.

    Takes:   the graph; its hours; what was laid; the instant by which each build is to end, by number.
    Returns: latest starts by node, never before the planned ones. Work that nothing limits is not in it.
    Raises:  nothing.
    Source:  the shop document, `latest_start`, in the simple form said above.
    """
    return _Pass(graph, hours, laid, limits).starts()


class _Pass:
    def __init__(self, graph: Graph, hours: Hours, laid: Mapping[int, Laid], limits: Mapping[int, int]) -> None:
        self.graph, self.hours, self.laid, self.limits = graph, hours, laid, limits
        self.start: dict[_Place, int] = {}  # the latest start of work gone over already
        self.next: dict[int, _Place] = {}  # of each person, the work gone over last
        self.following = Following(graph, laid)

    def starts(self) -> dict[int, int]:
        """Go over all work from the last back."""
        bars = sorted((bar for number in self.laid for bar in self._bars(number)), key=lambda bar: bar.slot.start)
        for bar in reversed(bars):
            latest = self._latest(bar)
            if latest is not None:
                self.start[bar.place] = latest
            for person in bar.slot.people:
                self.next[person] = bar.place
        nodes = (node for node in self.graph.nodes if node.progress is Progress.TO_COME)
        return {n.number: self.start[n.number, n.key] for n in nodes if (n.number, n.key) in self.start}

    def _bars(self, number: int) -> Iterator[_Bar]:
        laid = self.laid[number]
        if laid.slot is not None:
            yield _Bar((number, self.graph.nodes[number].key), laid.slot)
        for piece in laid.before:
            yield _Bar((number, piece.key), piece.slot)
        for piece in laid.tending:
            if piece.at is not None and piece.by is not None and laid.end is not None:
                yield _Bar((number, piece.key), piece.slot, piece.at - laid.end, piece.by - piece.at)

    def _latest(self, bar: _Bar) -> int | None:
        """The latest start of some work; None where nothing limits it."""
        node, laid = self.graph.nodes[bar.place[0]], self.laid[bar.place[0]]
        planned = bar.slot.start
        if node.progress is not Progress.TO_COME and bar.at is None:
            return planned
        ends = list(self._ends(bar, node, laid))
        if not ends:
            return None
        if bar.slot.over_closing:
            return planned
        openings = self.hours.together(bar.slot.people)
        limit = min([*self._starts(bar, node, laid)], default=None)
        if bar.at is not None:
            return max(planned, self._back(bar, node, min(ends), limit, openings))
        return self._warm(bar, node, min(ends), limit, openings)

    def _warm(self, bar: _Bar, node: Node, end: int, limit: int | None, openings: Openings) -> int:
        """The latest start that ends by an instant, can be tended, and stays warm long enough."""
        laid, planned = self.laid[node.number], bar.slot.start
        cold = None if laid.chill is not None or bar.place[1] != node.key else cold_of(node, self.graph)
        while True:
            start = self._tended(node, laid, self._back(bar, node, end, limit, openings), openings)
            if cold is None or start <= planned:
                return max(planned, start)
            _, end = _run(start, node, openings)
            meets = cold.first(start, end)
            if meets is None:
                return start
            end = min(end - 1, meets - cold.lasts)

    def _ends(self, bar: _Bar, node: Node, laid: Laid) -> Iterator[int]:
        """What limits the end of some work: its people's next, and for a node's own what follows, and its build."""
        for person in bar.slot.people:
            following = self.next.get(person)
            if following is not None and following in self.start:
                yield self.start[following]
        if bar.place[1] == node.key:
            yield from self._follow(node, laid)
        limit = self.limits.get(node.build)
        if limit is not None:
            yield limit

    def _follow(self, node: Node, laid: Laid) -> Iterator[int]:
        """What follows by link or by what it holds, and the stages before hand-over, as ends of the hands-on work."""
        for behind in self.following.of(node):
            start = self.start.get((behind.number, self._first_key(behind.number)))
            if start is not None:
                yield self._end_for(node, laid, behind.stage, start - behind.minutes, laid.end or 0)
        for number in dict.fromkeys(self.graph.followers[node.number]):
            latest = self.start.get((number, self._first_key(number)))
            for hold in clearances(self.graph.nodes[number], self.laid, self.graph) if latest is not None else ():
                if latest is not None and hold.link.to == node.number and hold.until is not None:
                    yield self._end_for(node, laid, hold.link.stage, latest - hold.link.lag, hold.until - hold.link.lag)
            yield from self._opened(node, laid, number, latest)
        limit = self.limits.get(node.build)
        for number, stage in self.graph.asked[node.build]:
            reached = laid.stages.get(stage)
            if number == node.number and limit is not None and reached is not None:
                yield self._end_for(node, laid, stage, limit, reached)

    def _first_key(self, number: int) -> str:
        before = self.laid[number].before
        return before[0].key if before else self.graph.nodes[number].key

    def _end_for(self, node: Node, laid: Laid, stage: str | None, by: int, planned: int) -> int:
        """The latest end of the hands-on work with which it clears, or a stage of it is reached, by an instant."""
        wait = next((one for one in node.waits if one.name == stage), None)
        return by - (planned - (laid.end or 0)) if wait is None else self._waited(node, laid, wait, by)

    def _waited(self, node: Node, laid: Laid, wait: Paced, by: int) -> int:
        """The latest end of the hands-on work with which a wait is over by an instant; never before the planned one."""
        end, began = laid.end or 0, laid.began or 0
        found = began_by(began, max(by, began), wait, self.graph.air(node))
        return end if found is None else end + found - began

    def _opened(self, node: Node, laid: Laid, number: int, latest: int | None) -> Iterator[int]:
        """The latest end with which the window that the next layer is laid in is open when that one starts."""
        upper, over = self.graph.nodes[number], self.laid[number]
        link = layer_below(upper, self.graph)
        if link is None or link.to != node.number or over.window is None or latest is None:
            return
        for window in self.graph.windows(upper, link):
            wait = opening(window, node.pace)
            if paced_ends(laid.began or 0, [wait], history=self.graph.air(node))[wait.name] == over.window.begin:
                yield self._waited(node, laid, wait, latest)

    def _starts(self, bar: _Bar, node: Node, laid: Laid) -> Iterator[int]:
        """What limits the start of some work whatever follows it: its pin, its window, what it must follow."""
        pin = node.operation.pinned
        if pin is not None:
            yield _pin_ends(pin, self.hours)
        if bar.at is not None:
            return
        if laid.window is not None and laid.window.end is not None:
            yield laid.window.end - (bar.slot.end - bar.slot.start)
        for hold in clearances(node, self.laid, self.graph):
            if hold.start_by is not None:
                yield hold.start_by

    def _back(self, bar: _Bar, node: Node, end: int, limit: int | None, openings: Openings) -> int:
        """The latest start in the hours of its people that ends by an instant, and starts by another."""
        minutes = sum(stop - start for start, stop in bar.slot.spans)
        inserted = bar.at is not None or bool(self.laid[node.number].before)
        if node.split and not inserted:
            least = self.graph.document.shop.least_minutes
            return _split_back(minutes, end, limit, least, openings, bar.slot.start)
        start = end - minutes if limit is None else min(end - minutes, limit)
        return openings.last_begin(start, minutes) or bar.slot.start

    def _tended(self, node: Node, laid: Laid, start: int, openings: Openings) -> int:
        """The latest start, from one back, with which all tending still falls into its span and its people's hours."""
        planned = laid.slot.start if laid.slot else start
        bars = [bar for bar in self._bars(node.number) if bar.at is not None]
        while bars and start > planned:
            run, end = _run(start, node, openings)
            latest = [self._tended_by(bar, end) for bar in bars]
            known = [one for one in latest if one is not None]
            if len(known) < len(latest):
                return planned
            if min(known) == end:
                return start
            start = max(planned, _start_before(min(known), node, run, openings) or planned)
        return start

    def _tended_by(self, bar: _Bar, end: int) -> int | None:
        """The latest end of the hands-on work, from one back, after which a tending falls into its span and hours."""
        first = end + (bar.at or 0)
        last = min(first + bar.within, self.start.get(bar.place, first + bar.within))
        begin = self.hours.together(bar.slot.people).last_begin(last, bar.slot.end - bar.slot.start)
        return None if begin is None else end - max(0, first - begin)


def _run(start: int, node: Node, openings: Openings) -> tuple[tuple[Span, ...] | None, int]:
    """The work of a node begun at an instant, and when it ends; None where no hours are left for it."""
    run = openings.run(start, node.left) if node.split else ((start, start + node.left),)
    return run, run[-1][1] if run else start


def _start_before(end: int, node: Node, run: tuple[Span, ...] | None, openings: Openings) -> int | None:
    """The latest start of work that is laid as this run is and ends by an instant."""
    if not run or not node.split:
        return end - node.left if run else end
    back = openings.run_back(end, node.left)
    return back[0][0] if back else None


def _split_back(minutes: int, end: int, limit: int | None, least: int, openings: Openings, planned: int) -> int:
    run = openings.run_back(end, minutes)
    if run is None:
        return planned
    start = run[0][0] if limit is None else min(run[0][0], limit)
    return openings.last_begin_split(start, minutes, least) or planned


def _pin_ends(pin: Pin, hours: Hours) -> int:
    if pin.on is not None:
        return hours.midnight(pin.on.fromordinal(pin.on.toordinal() + 1)) - 1
    return pin.at or 0
