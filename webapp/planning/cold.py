"""The lowest temperature of a glue or finish: under it the film does not form, however long one waits.

It counts from the start of the work until some hours after its end. Work to come is laid where it stays warm; work that
has begun is judged by what was read, not by what is usual.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.planning.graph import Graph, Node
from webapp.planning.instants import DAY
from webapp.planning.laid import Chill, Laid
from webapp.planning.planned import FlagName, Span
from webapp.trade.climate import History
from webapp.trade.cure import wait_minutes
from webapp.trade.pace import LOOSE

SEARCH = 14 * DAY  # as far as work is moved for the cold


@dataclass(frozen=True, slots=True)
class Cold:
    """What an operation does not stand: less than `lowest` °C from its start until `lasts` minutes after its end."""

    history: History
    lowest: float
    lasts: int

    def first(self, begin: int, end: int) -> Span | None:
        """The first stretch too cold for work that lies in a span, as it is in the air; None where it is warm."""
        found = self.history.under(self.lowest, begin, end + self.lasts)
        return self._whole(found[0].begin) if found else None

    def again(self, begin: int, end: int) -> int | None:
        """From when on it is warm again after the last stretch too cold for work that lies in a span; None: it is."""
        found = self.history.under(self.lowest, begin, end + self.lasts)
        return self._whole(found[-1].begin)[1] if found else None

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

    def _whole(self, instant: int) -> Span:
        """The cold around an instant, as far as it goes on at this temperature."""
        air = self.history.at(instant)
        return air.begin, air.end


def cold_of(node: Node, graph: Graph) -> Cold | None:
    """Return what an operation does not stand.

    Takes:   the node; the graph.
    Returns: None where its product has no lowest temperature, where its room never has it, or the maker answers for it.
    Raises:  nothing.
    Source:  the shop document, rule 4.
    """
    product = node.product
    if product is None or product.lowest is None or FlagName.TOO_COLD in node.operation.overruled:
        return None
    history = graph.air(node)
    if history.least is None or history.least >= product.lowest - LOOSE:
        return None
    return Cold(history, product.lowest, wait_minutes(product.lowest_for_hours))


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
    found = cold.history.under(cold.lowest, laid.start, laid.end + cold.lasts)
    if not found:
        return None
    return Chill(FlagName.TOO_COLD, found[0].begin, found[0].temperature or 0.0, laid.end + cold.lasts)


def judged(node: Node, start: int, end: int, graph: Graph) -> Chill | None:
    """Return the cold that work which has begun has met, or is to meet.

    Takes:   the node; its real start; the end of its hands-on work; the graph.
    Returns: `suspect-joint` where a reading up to now was too low, unless the maker answers for it; else `cold-ahead`
             where it will be too cold; None where neither.
    Raises:  nothing.
    Source:  the shop document, rule 4.
    """
    product, now = node.product, graph.document.now
    if product is None or product.lowest is None:
        return None
    history = graph.air(node)
    if history.least is None or history.least >= product.lowest - LOOSE:
        return None
    until = end + wait_minutes(product.lowest_for_hours)
    read = history.read_under(product.lowest, start, min(until, now + 1))
    if read is not None and FlagName.SUSPECT_JOINT not in node.operation.overruled:
        return Chill(FlagName.SUSPECT_JOINT, read.begin, read.value, until)
    ahead = history.under(product.lowest, max(now, start), until)
    return Chill(FlagName.COLD_AHEAD, ahead[0].begin, ahead[0].temperature or 0.0, until) if ahead else None


def chilled(node: Node, laid: Laid, chill: Chill | None, now: int) -> Laid:
    """Return an operation with the cold it meets: where its film does not form, no stage is reached but by a test.

    Takes:   the node; how it is laid; the cold; now.
    Returns: the same, with its stages as they are then.
    Raises:  nothing.
    Source:  the shop document, rule 4 and `reached`.
    """
    if chill is None or not chill.spoils:
        return laid if chill is None else replace(laid, chill=chill)
    return replace(laid, chill=chill, stages=_tested(node.operation.reached, laid.stages, now))


def _tested(reached: Mapping[str, int], stages: Mapping[str, int | None], now: int) -> dict[str, int | None]:
    return {name: reached[name] if reached.get(name, now + 1) <= now else None for name in stages}
