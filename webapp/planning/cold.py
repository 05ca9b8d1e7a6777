"""The lowest temperature of a glue or finish: under it the film does not form, however long one waits.

It counts from the start of the work until some hours after its end. Work to come is laid where it stays warm; work that
has begun is judged by what was read, not by what is usual.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.planning.graph import Graph, Node
from webapp.planning.instants import DAY
from webapp.planning.laid import Chill, Laid
from webapp.planning.network import Product
from webapp.planning.planned import FlagName, Span
from webapp.trade.air.climate import History
from webapp.trade.air.pace import LOOSE
from webapp.trade.waits.cure import wait_minutes

SEARCH = 14 * DAY  # as far as work is moved for the cold


@dataclass(frozen=True, slots=True)
class Cold:
    """What an operation does not stand: less than `lowest` °C from its start until `lasts` minutes after its end."""

    history: History
    lowest: float
    lasts: int

    @classmethod
    def of(cls, product: Product | None, history: History) -> "Cold | None":
        """What work with a product does not stand; None where nothing is known, or where it is never so cold."""
        if product is None or product.lowest is None:
            return None
        if history.least is None or history.least >= product.lowest - LOOSE:
            return None
        return cls(history, product.lowest, wait_minutes(product.lowest_for_hours))

    def ahead(self, begin: int, end: int) -> Chill | None:
        """The cold that work to come would meet, did it lie in a span: `too-cold`, with the first stretch that is."""
        return self._met(FlagName.TOO_COLD, begin, max(end + self.lasts, begin + 1))

    def judged(self, start: int, end: int, now: int, *, vouched: bool) -> Chill | None:
        """The cold that work which has begun has met, or is to meet.

        `suspect-joint` where a reading up to now was too low, unless somebody has vouched for it; else `cold-ahead`.
        """
        until = end + self.lasts
        read = self.history.read_under(self.lowest, start, min(until, now + 1))
        if read is not None and not vouched:
            return Chill(FlagName.SUSPECT_JOINT, read.begin, read.value, until)
        return self._met(FlagName.COLD_AHEAD, max(now, start), until)

    def _met(self, flag: FlagName, begin: int, until: int) -> Chill | None:
        found = self.history.first_under(self.lowest, begin, until)
        return None if found is None else Chill(flag, found.begin, found.value, until)

    def first(self, begin: int, end: int) -> int | None:
        """Since when it is too cold for work that lies in a span, as it is in the air; None where it is warm."""
        found = self.history.first_under(self.lowest, begin, end + self.lasts)
        return None if found is None else self.history.at(found.begin).begin

    def again(self, begin: int, end: int) -> int | None:
        """From when on it is warm again after the last stretch too cold for work that lies in a span; None: it is."""
        found = self.history.under(self.lowest, begin, end + self.lasts)
        return self.history.at(found[-1].begin).end if found else None

    def later(self, lead: int) -> Callable[[Sequence[Span]], int | None]:
        """When to try again with spans that are too cold, `lead` minutes of them being other work that stands it."""

        def later(spans: Sequence[Span]) -> int | None:
            again = self.again(spans[0][0] + lead, spans[-1][1])
            return None if again is None else again - lead

        return later

    def warm_from(self, begin: int, minutes: int) -> int:
        """From when on work so long in one piece stays warm, an instant or later; at most the days of the search on."""
        start, by = begin, begin + SEARCH
        while start < by:
            again = self.again(start, start + minutes)
            if again is None:
                return start
            start = again
        return min(start, by)


def cold_of(node: Node, graph: Graph) -> Cold | None:
    """Return what an operation does not stand.

    Takes:   the node; the graph.
    Returns: None where its product has no lowest temperature, where its room never has it, or the maker answers for it.
    Raises:  nothing.
    Source:  the shop document, rule 4.
    """
    if node.product is None or node.product.lowest is None or FlagName.TOO_COLD in node.operation.overruled:
        return None
    return Cold.of(node.product, graph.air(node))


def forecast(node: Node, laid: Laid, graph: Graph) -> Chill | None:
    """Return the cold that work to come would meet where it is laid.

    Takes:   the node; how it is laid; the graph.
    Returns: `too-cold`, with the first stretch that is; None where it stays warm.
    Raises:  nothing.
    Source:  the shop document, rule 4.
    """
    cold = cold_of(node, graph)
    if cold is None or laid.start is None or laid.end is None:
        return None
    return cold.ahead(laid.start, laid.end)


def judged(node: Node, start: int, end: int, graph: Graph) -> Chill | None:
    """Return the cold that work which has begun has met, or is to meet.

    Takes:   the node; its real start; the end of its hands-on work; the graph.
    Returns: `suspect-joint` where a reading up to now was too low, unless the maker answers for it; else `cold-ahead`
             where it will be too cold; None where neither.
    Raises:  nothing.
    Source:  the shop document, rule 4.
    """
    cold = Cold.of(node.product, graph.air(node))
    vouched = FlagName.SUSPECT_JOINT in node.operation.overruled
    return None if cold is None else cold.judged(start, end, graph.document.now, vouched=vouched)


def chilled(node: Node, laid: Laid, chill: Chill | None, now: int) -> Laid:
    """Return an operation with the cold it meets: where its film does not form, no stage is reached but by a test.

    Takes:   the node; how it is laid; the cold; now.
    Returns: the same, with its stages as they are then.
    Raises:  nothing.
    Source:  the shop document, rule 4 and `reached`.
    """
    if chill is None or not chill.spoils:
        return laid if chill is None else replace(laid, chill=chill)
    return replace(laid, chill=chill, stages=tested(node.operation.reached, laid.stages, now))


def tested(reached: Mapping[str, int], stages: Mapping[str, int | None], now: int) -> dict[str, int | None]:
    """Return the stages of a wait whose film may not have formed: none is reached but by a test.

    Takes:   when stages were tested; when they would be reached; now.
    Returns: the instant of each stage, None where it was not tested by now.
    Raises:  nothing.
    Source:  the shop document, rule 4 and `reached`.

    >>> tested({"dry": 60}, {"dry": 50, "full cure": 900}, 70)
    {'dry': 60, 'full cure': None}
    """
    return {name: reached[name] if reached.get(name, now + 1) <= now else None for name in stages}
