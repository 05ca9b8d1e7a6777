"""Why an operation starts when it does.

The question is put to one minute: the last one of the shop's hours before the start, and not before now. With all else
standing still, what would not let the operation start there? Of several things the one that clears last counts; that it
would not fit before closing counts only where nothing else held it.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from webapp.planning.cold import cold_of
from webapp.planning.graph import Graph, Node
from webapp.planning.holding import Holdings
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid, Piece, clearances, windows
from webapp.planning.mixes import first_of_each
from webapp.planning.moving import too_late_after
from webapp.planning.network import Pin
from webapp.planning.place import not_before
from webapp.planning.planned import Because, Span, Why
from webapp.planning.roster import Slot
from webapp.planning.tending import tending_after

_RANK: Mapping[Why, int] = {why: rank for rank, why in enumerate(Why)}
_ALONE = (Why.WILL_NOT_FIT, Why.SHOP_SHUT)
_NEVER = 1 << 62

_Causes = Callable[[int], Iterator[Because]]


@dataclass(frozen=True, slots=True)
class Work:
    """A span that somebody works, and what for."""

    span: Span
    node: int
    key: str


class Explainer:
    """Explains the operations of one layout."""

    def __init__(self, graph: Graph, hours: Hours, laid: Mapping[int, Laid]) -> None:
        self.graph, self.hours, self.laid = graph, hours, laid
        self.now = graph.document.now
        self.least = graph.document.shop.least_minutes
        self.holdings = Holdings(graph, hours)
        for number, one in laid.items():
            self.holdings.take(graph.nodes[number], one)
        self.shop = hours.of()
        self.shop.next_open(self.now)
        self.work: list[list[Work]] = [[] for _ in graph.document.shop.makers]
        for number, one in laid.items():
            self._book(number, one)
        for works in self.work:
            works.sort(key=lambda work: work.span)
        self._starts = [[work.span[0] for work in works] for works in self.work]

    def _book(self, number: int, laid: Laid) -> None:
        named = [(piece.key, piece.slot) for piece in laid.pieces]
        if laid.slot is not None:
            named.append((self.graph.nodes[number].key, laid.slot))
        for key, slot in named:
            for person in slot.people:
                self.work[person] += [Work(span, number, key) for span in slot.spans]

    def because(self, node: Node) -> Because | None:
        """Return what kept an operation, with the work inserted before it, from starting earlier.

        Takes:   a node that is still to come.
        Returns: the cause; None for work that is blocked.
        Raises:  nothing.
        Source:  the shop document, `because`.
        """
        laid = self.laid[node.number]
        if laid.from_ is None or laid.slot is None:
            return None
        slot = laid.before[0].slot if laid.before else laid.slot
        return self._answer(laid.from_, slot, lambda minute: _Case(self, node, laid, minute).causes())

    def because_of_piece(self, node: Node, piece: Piece) -> Because:
        """Return what kept tending from starting earlier.

        Takes:   the node it belongs to; the tending.
        Returns: the cause; its time has not come is `order`, after the node.
        Raises:  nothing.
        Source:  the shop document, `because`.
        """
        start, people = piece.slot.start, len(piece.slot.people)
        after = start if piece.at is None else piece.at
        name = self.graph.builds[node.build].name

        def causes(minute: int) -> Iterator[Because]:
            if minute < after:
                yield Because(Why.ORDER, after, node.key, name)
            yield from self.makers(minute, piece.slot.end - start, False, people, piece.key, node.number)

        return self._answer(start, piece.slot, causes)

    def _answer(self, start: int, slot: Slot, causes: _Causes) -> Because:
        minute = self.shop.last_before(start)
        if minute is None or minute < self.now:
            return Because(Why.NOW, start) if start == self.now else Because(Why.SHOP_SHUT, start)
        found = list(causes(minute))
        weighty = [cause for cause in found if cause.why not in _ALONE] or found
        if not weighty:
            return Because(Why.PLAN)
        return min(weighty, key=lambda cause: (-(cause.until or slot.start), _RANK[cause.why]))

    def makers(
        self, minute: int, minutes: int, split: bool, wanted: int, key: str | None, own: int
    ) -> Iterator[Because]:
        """Yield `maker` where too few are free and in to start work at a minute, `will-not-fit` where that is all."""
        fits = None
        for members, openings in self.hours.mixes(wanted):
            if not openings.is_open(minute):
                continue
            closing = openings.close(openings.find(minute) or 0, minute + minutes)
            spans = openings.run(minute, minutes) if split else ((minute, min(closing, minute + minutes)),)
            free = [person for person in members if spans and self._other(person, spans, key, own) is None]
            if first_of_each(free, self.hours.groups, members, wanted) is not None:
                fits = fits or closing - minute >= (min(minutes, self.least) if split else minutes)
        if fits is None:
            yield self._short(minute, minutes, split, wanted, key, own)
        elif not fits:
            yield Because(Why.WILL_NOT_FIT)

    def _short(self, minute: int, minutes: int, split: bool, wanted: int, key: str | None, own: int) -> Because:
        """Until when too few people are free and in, taking each by himself, and what the last of them is at."""
        held: list[tuple[int, Work | None]] = []
        for person in range(len(self.work)):
            openings = self.hours.of_maker(person)
            if not openings.is_open(minute):
                held.append((openings.next_open(minute) or _NEVER, None))
                continue
            run = openings.run(minute, minutes) if split else None
            closing = openings.close(openings.find(minute) or 0, minute + minutes)
            work = self._other(person, run or ((minute, min(closing, minute + minutes)),), key, own)
            if work is not None:
                held.append((work.span[1], work))
        held.sort(key=lambda hold: hold[0])
        lacking = wanted - (len(self.work) - len(held))
        return self._busy(*held[lacking - 1]) if lacking > 0 else Because(Why.MAKER)

    def _busy(self, until: int, work: Work | None) -> Because:
        if work is None:
            return Because(Why.MAKER, None if until == _NEVER else until)
        return Because(Why.MAKER, until, work.key, self.graph.builds[self.graph.nodes[work.node].build].name)

    def _other(self, person: int, spans: Iterable[Span], key: str | None, own: int) -> Work | None:
        """The last work of a person in some spans; a node's own, or of it the piece named, does not count."""
        works, starts = self.work[person], self._starts[person]
        last = None
        for start, end in spans:
            index = bisect_left(starts, start)
            index -= index > 0 and works[index - 1].span[1] > start
            while index < len(works) and works[index].span[0] < end:
                if works[index].node != own or key not in (None, works[index].key):
                    last = works[index]
                index += 1
        return last

    def is_free(self, minute: int, minutes: int, own: int) -> bool:
        """Whether somebody could do short work of one piece at a minute, a node's own work not counting."""
        return not list(self.makers(minute, minutes, False, 1, None, own))


class _Case:
    """One operation and one minute in which it did not start."""

    def __init__(self, explainer: Explainer, node: Node, laid: Laid, minute: int) -> None:
        self.of, self.node, self.laid, self.minute = explainer, node, laid, minute
        self.lead = laid.lead.minutes

    def causes(self) -> Iterator[Because]:
        """All that kept the operation from starting in the minute."""
        yield from self._links()
        yield from self._windows()
        yield from self._followers()
        yield from self._holds()
        yield from self._cold()
        yield from self._tending()
        split = self.node.split and not self.lead
        people = len(self.laid.slot.people) if self.laid.slot else 1
        yield from self.of.makers(self.minute, self.lead + self.node.left, split, people, None, self.node.number)
        yield from self._dates()

    def _links(self) -> Iterator[Because]:
        graph = self.of.graph
        name = graph.builds[self.node.build].name
        for hold in clearances(self.node, self.of.laid, graph):
            if hold.until is not None and hold.until > self.minute:
                other = graph.nodes[hold.link.to].key
                stage = hold.link.stage if hold.why is Why.STAGE else None
                yield Because(hold.why, hold.until, other, name, stage)

    def _windows(self) -> Iterator[Because]:
        """A recoat window that has not begun, or one that the work would have run out of."""
        end = self.minute + self.lead + self.node.left
        allowed = windows(self.node, self.of.laid, self.of.graph)
        if not allowed or self.laid.window is None:
            return
        begins = self.laid.window.begin
        fits = any(window.holds(self.minute, end) for window in allowed)
        if begins > self.minute and not fits:
            lower = next(self.of.graph.nodes[link.to] for link in self.node.links if link.over)
            yield Because(Why.RECOAT, begins, lower.key, self.of.graph.builds[self.node.build].name)

    def _run(self) -> tuple[Span, ...]:
        """The work as it would have lain, with what is put in before it."""
        run: tuple[Span, ...] = ((self.minute, self.minute + self.lead + self.node.left),)
        if self.node.split and not self.lead and self.laid.slot is not None:
            return self.of.hours.together(self.laid.slot.people).run(self.minute, self.node.left) or run
        return run

    def _cold(self) -> Iterator[Because]:
        """Air that would have been too cold before the film had formed."""
        cold = None if self.laid.chill is not None else cold_of(self.node, self.of.graph)
        if cold is None:
            return
        run = self._run()
        begin, end = run[0][0] + self.lead, run[-1][1]
        if cold.again(begin, end) is not None:
            yield Because(Why.COLD, cold.warm_from(begin, end - begin) - self.lead)

    def _holds(self) -> Iterator[Because]:
        """Equipment in use, no place to dry, dust in the air or to be made over wet work."""
        for way in self.of.holdings.ways(self.node, self._run(), self.laid.lead):
            other = None if way.node is None else self.of.graph.nodes[way.node]
            name = None if other is None else self.of.graph.builds[other.build].name
            yield Because(way.why, way.until, None if other is None else other.key, name)

    def _followers(self) -> Iterator[Because]:
        """What must follow closely and would have come too late after it."""
        name = self.of.graph.builds[self.node.build].name
        for follower in too_late_after(self.node, self._run()[-1][1], self.of.laid, self.of.graph):
            yield Because(Why.RECOAT, self.laid.from_, follower.key, name)

    def _tending(self) -> Iterator[Because]:
        """Tending that nobody could do in time."""
        run = self._run()
        name = self.of.graph.builds[self.node.build].name
        for tending in tending_after(self.node, run[-1][1]):
            span = range(tending.at, tending.by + 1)
            if not any(self.of.is_free(minute, tending.minutes, self.node.number) for minute in span):
                yield Because(Why.RECOAT, self.laid.from_, f"{self.node.key}.{tending.key}", name)

    def _dates(self) -> Iterator[Because]:
        dates = [not_before(self.of.graph.builds[self.node.build], self.of.hours), self.node.operation.not_before]
        yield from (Because(Why.NOT_BEFORE, when) for when in dates if when is not None and when > self.minute)
        pinned = _pinned(self.node.operation.pinned, self.of.hours)
        if pinned is not None and pinned > self.minute:
            yield Because(Why.PINNED, pinned)


def _pinned(pin: Pin | None, hours: Hours) -> int | None:
    if pin is None:
        return None
    return pin.at if pin.on is None else hours.midnight(pin.on)
