"""By when an operation has to end for what comes after it, and for the things that it takes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from webapp.planning.backwards.diary import Diary
from webapp.planning.graph import Graph, Link, Node
from webapp.planning.holding import Hold, Holdings
from webapp.planning.laid import Laid
from webapp.planning.needs import Lead
from webapp.planning.planned import Span
from webapp.planning.progress import Progress
from webapp.trade.air.readings import NEVER
from webapp.trade.waits.cure import Paced, Window, began_by, opening, recoat_windows


@dataclass(frozen=True, slots=True)
class Bounds:
    """The instant by which work ends, and that by which its tending is over too."""

    end: int
    clears: int


@dataclass(frozen=True, slots=True)
class Lacking:
    """By how many minutes an operation ends too early for one that has to follow it closely."""

    follower: int
    minutes: int


class Behind:
    """What comes after operations, in a layout that grows from its end.

    Takes:   the graph; what is laid, which the caller adds to; how the plan lays everything; the instant before which
             nothing is sought.
    Returns: the bounds of one operation after the other.
    Raises:  nothing.
    Source:  the shop document, rules 2, 7, 8 and 9.
    """

    def __init__(self, graph: Graph, laid: Mapping[int, Laid], planned: Mapping[int, Laid], floor: int) -> None:
        self.graph, self.laid, self.planned, self.floor = graph, laid, planned, floor

    def bounds(self, node: Node, due: int) -> Bounds:
        """Return by when an operation has to end, all that waits for it being laid; long ago, where nothing helps."""
        clears = [due]
        asked = self.graph.asked[node.build]
        ends = [self.end_for(node, stage, due) for number, stage in asked if number == node.number]
        for follower, link in self._followers(node):
            by = (self.laid[follower.number].from_ or 0) - link.lag
            window = self.window(follower, link)
            if link.stage in node.stage_names:
                ends.append(self.end_for(node, link.stage, by))
            elif window is not None:
                ends += [by, self._began_for(node, opening(window, node.pace), by)]
            else:
                clears.append(by)
        return Bounds(min([*ends, *clears]), min(clears))

    def lacking(self, node: Node, laid: Laid) -> Lacking | None:
        """Return what an operation ends too early for where it is laid, the one it ends earliest for."""
        return max(self._lacks(node, laid), key=lambda lack: lack.minutes, default=None)

    def window(self, follower: Node, link: Link) -> Window | None:
        """The recoat window of the layer below in which a layer is planned; the first, where it missed them all."""
        windows = self.graph.windows(follower, link) if link.over else ()
        own, lower = self.planned[follower.number], self.graph.nodes[link.to]
        if own.missed or not windows:
            return next(iter(windows), None)
        began, air = self.planned[link.to].began or 0, self.graph.air(lower)
        return next((one for one in windows if own.window in recoat_windows(began, [one], lower.pace, air)), None)

    def end_for(self, node: Node, stage: str | None, by: int) -> int:
        """The latest end of the hands-on work with which a stage is reached by an instant."""
        wait = next((one for one in node.waits if one.name == stage), None)
        if wait is None:
            return by
        told, now = node.operation.reached.get(wait.name), self.graph.document.now
        if node.operation.wait_began is not None or (told is not None and told <= now):
            reached = self.graph.ends(node, node.began(0), wait.name)[wait.name]
            return NEVER if reached is not None and reached <= by else -NEVER
        return -NEVER if told is not None and told > by else self._began_for(node, wait, by)

    def reached(self, node: Node, stage: str, end: int) -> int:
        """When a stage is reached, did the work end at an instant; the end where it never is."""
        return max(end, self.graph.ends(node, node.began(end), stage).get(stage) or end)

    def _began_for(self, node: Node, wait: Paced, by: int) -> int:
        began = began_by(self.floor, by, wait, self.graph.air(node))
        return -NEVER if began is None else began

    def _followers(self, node: Node) -> Iterator[tuple[Node, Link]]:
        for number in dict.fromkeys(self.graph.followers[node.number]):
            follower = self.graph.nodes[number]
            if number in self.laid and follower.progress is Progress.TO_COME:
                yield from ((follower, link) for link in follower.links if link.to == node.number)

    def _lacks(self, node: Node, laid: Laid) -> Iterator[Lacking]:
        for follower, link in self._followers(node):
            other = self.laid[follower.number]
            if link.within is not None:
                reached = laid.clears if link.stage is None else laid.stages.get(link.stage, laid.clears)
                minutes = (other.start or 0) - ((reached or 0) + link.within)
                if minutes > 0:
                    yield Lacking(follower.number, minutes)
            window = None if self.planned[follower.number].missed else self.window(follower, link)
            if window is not None and window.to_hours is not None:
                open_ = recoat_windows(laid.began or 0, [window], node.pace, self.graph.air(node))
                shuts = open_[0].end if open_ else None
                if shuts is not None and shuts < (other.end or 0):
                    yield Lacking(follower.number, (other.end or 0) - shuts)


class Things:
    """Equipment, places to dry and clean air, asked from behind.

    Takes:   what is held, which the caller adds to; the bounds; the diary, for when somebody is in.
    Returns: for work somewhere, by when to end instead.
    Raises:  nothing.
    Source:  the shop document, rules 5 and 6.
    """

    def __init__(self, holdings: Holdings, behind: Behind, diary: Diary) -> None:
        self.holdings, self.behind, self.diary = holdings, behind, diary

    def sooner(self, node: Node, spans: Sequence[Span], lead: Lead) -> int | None:
        """Return by when work has to end for something that is in its way to be out of it; None where nothing is.

        Whatever meets it stays in its way until the last of that begins after it: so far it may go back at once.
        """
        if not (node.needs.any or lead.pieces) or self.holdings.in_the_way(node, spans, lead) is None:
            return None
        start, end = spans[0][0] + lead.minutes, spans[-1][1]
        found = [*self._equipment(node, start, end), *self._wet(node, start, end), *self._dusty(node, spans, lead)]
        return max([one for one in found if one < end], default=-NEVER)

    def _equipment(self, node: Node, start: int, end: int) -> Iterator[int]:
        for taken in node.needs.equipment:
            holds = self.holdings.equipment.get(taken.name, ())
            if taken.until is None:
                yield from _begins(holds, start, end)
                continue
            since = self.behind.reached(node, taken.until, end)
            begins = list(_begins(holds, start, self.diary.hours.anyone_in(since) or since))
            if begins:
                by = self.diary.anyone_in_by(max(begins))
                yield min(by, self.behind.end_for(node, taken.until, by))

    def _wet(self, node: Node, start: int, end: int) -> Iterator[int]:
        needs = node.needs
        if needs.wet_until is None or needs.room is None:
            return
        piece, dry = self.behind.graph.piece(node), self.behind.reached(node, needs.wet_until, end)
        others = [hold for hold in self.holdings.wet.get(needs.room, ()) if hold.piece != piece]
        begins = [*_begins(others, start, dry)]
        begins += _begins(self.holdings.dusty.get(needs.room, ()), start - needs.settle, dry)
        if begins:
            yield min(max(begins), self.behind.end_for(node, needs.wet_until, max(begins)))

    def _dusty(self, node: Node, spans: Sequence[Span], lead: Lead) -> Iterator[int]:
        """The ends with which dusty work, put in before a layer too, lies before wet coats and settles."""
        needs, at, end = node.needs, spans[0][0], spans[-1][1]
        wet = self.holdings.wet.get(needs.room or "", ())
        if needs.is_dusty:
            yield from (begin - needs.settle for begin in _begins(wet, at + lead.minutes, end + needs.settle))
        for (_, minutes), dusts in zip(lead.pieces, lead.dusty, strict=True):
            stop = at + minutes
            if dusts:
                yield from (begin - needs.settle + end - stop for begin in _begins(wet, at, stop + needs.settle))
            at = stop


def _begins(holds: Sequence[Hold], start: int, end: int) -> Iterator[int]:
    """When those holds begin that a span meets."""
    return (hold.begin for hold in holds if hold.begin < end and hold.until > start)
