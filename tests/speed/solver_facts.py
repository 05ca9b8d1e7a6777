"""A shop in whole numbers for the solver: minutes since `now` over the greatest common divisor of all its times."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from math import gcd

from webapp.planning.cost import due_of
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.laid import layer_below
from webapp.planning.place import not_before
from webapp.planning.progress import Progress
from webapp.trade.waits.cure import paced_ends, recoat_windows


@dataclass(frozen=True)
class Choice:
    """One window of the layer below: from and to, after its end, and the work that comes first.

    `pieces` are keys, lengths and whether they are dusty; `worked` is their sum, `lead` with the time dust settles.
    """

    begin: int = 0
    end: int | None = None
    pieces: tuple[tuple[str, int, bool], ...] = ()
    worked: int = 0
    lead: int = 0

    def over(self, unit: int) -> "Choice":
        """The same in larger units."""
        return Choice(
            begin=self.begin // unit,
            end=None if self.end is None else self.end // unit,
            pieces=tuple((key, minutes // unit, dusts) for key, minutes, dusts in self.pieces),
            worked=self.worked // unit,
            lead=self.lead // unit,
        )

    def times(self) -> Iterator[int]:
        yield from (self.begin, self.end or 0, self.worked, self.lead)
        yield from (minutes for _, minutes, _ in self.pieces)


class Facts:
    """What the model needs to know of a graph in which nothing has begun, in its units."""

    def __init__(self, graph: Graph, hours: Hours, until: int) -> None:
        refuse(graph)
        self.graph, self.hours, self.now = graph, hours, graph.document.now
        spans = hours.of_maker(0).between(self.now, until)
        self.open = [(start - self.now, end - self.now) for start, end in spans]
        self.dues = [due_of(build, hours) for build in graph.builds]
        self.waits = {node.number: self._waits(node) for node in graph.nodes}
        self.choices = {node.number: list(self._choices(node)) for node in graph.nodes}
        self.unit = reduce(gcd, (abs(time) for time in self._times()), 0)
        self.horizon = (until - self.now) // self.unit
        self.open = [(start // self.unit, end // self.unit) for start, end in self.open]
        self.waits = {
            number: {name: wait // self.unit for name, wait in waits.items()} for number, waits in self.waits.items()
        }
        self.choices = {number: [one.over(self.unit) for one in found] for number, found in self.choices.items()}

    def told(self, at: int | None) -> int:
        """An instant in units since now."""
        assert at is not None
        return (at - self.now) // self.unit

    def at(self, units: int) -> int:
        """The instant so many units from now."""
        return units * self.unit + self.now

    def firsts(self, node: Node) -> Iterator[int]:
        """Instants before which an operation may not begin."""
        for at in (not_before(self.graph.builds[node.build], self.hours), node.operation.not_before):
            if at is not None:
                yield at

    def runs(self, node: Node) -> Iterator[tuple[int, int, int]]:
        """Starts from and to, and the closed time that work begun there contains."""
        size = node.left // self.unit
        for place, (open_, close) in enumerate(self.open):
            if close - size >= open_:
                yield open_, close - size, 0
            if node.split:
                yield from self._paused(place, size)

    def _paused(self, place: int, size: int) -> Iterator[tuple[int, int, int]]:
        """The same of work that pauses, by how many closings it crosses."""
        open_, close = self.open[place]
        after = gap = 0  # open and closed time behind this closing
        for (_, before), (again, end) in zip(self.open[place:], self.open[place + 1 :], strict=False):
            gap += again - before
            low = max(open_, close - size + after + 1)
            high = min(close - 1, close - size + after + end - again)
            if low <= high:
                yield low, high, gap
            after += end - again
            if after >= size:
                return

    def _times(self) -> Iterator[int]:
        """Everything that is a time in the model."""
        yield from (time for span in self.open for time in span)
        for node in self.graph.nodes:
            yield from (node.left, node.needs.settle, *self.waits[node.number].values())
            yield from (link.lag for link in node.links)
            yield from (at - self.now for at in self.firsts(node))
            yield from (time for choice in self.choices[node.number] for time in choice.times())
        yield from (due - self.now for due in self.dues if due is not None)

    def _waits(self, node: Node) -> dict[str, int]:
        """From the end of work to each stage; the air is always the same."""
        ends = paced_ends(self.now, node.waits, {}, self.now, self.graph.air(node))
        return {name: end - self.now for name, end in ends.items() if end is not None}

    def _choices(self, node: Node) -> Iterator[Choice]:
        link = layer_below(node, self.graph)
        if link is None:
            yield Choice()
            return
        lower = self.graph.nodes[link.to]
        rows = self.graph.windows(node, link)
        for window in recoat_windows(self.now, rows, lower.pace, self.graph.air(lower)):
            lead = self.graph.lead(node, window.needs)
            pieces = tuple((*piece, dusts) for piece, dusts in zip(lead.pieces, lead.dusty, strict=True))
            end = None if window.end is None else window.end - self.now
            yield Choice(window.begin - self.now, end, pieces, lead.worked, lead.minutes)


def refuse(graph: Graph) -> None:
    """Say what of a document the model does not know."""
    shop = graph.document.shop
    known = {
        "one maker": len(shop.makers) == 1,
        "no least minutes": shop.least_minutes == 0,
        "whole weights": all(build.weight == int(build.weight) for build in graph.builds),
    }
    for node in graph.nodes:
        product = node.product
        is_plain = product is None or (product.doubles_per is None and not product.tend and product.lowest is None)
        known["waits that cold does not change, without tending"] = is_plain
        known["nothing begun or pinned"] = node.progress is Progress.TO_COME and node.may_move
        known["no must-follow"] = all(link.within is None for link in node.links)
        known["coats that do not pause"] = node.needs.wet_until is None or not node.split
        wrong = [name for name, holds in known.items() if not holds]
        if wrong:
            raise ValueError(f"{node.key}: the model knows only {' and '.join(wrong)}")
