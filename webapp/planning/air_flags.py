"""What the air does to work: too cold, too damp, too warm for the open time; in sentences with a way out."""

from collections.abc import Iterator
from datetime import tzinfo
from itertools import islice

from webapp.planning.graph import Graph, Node
from webapp.planning.laid import Laid
from webapp.planning.network import Product
from webapp.planning.planned import Flag, FlagName, Span
from webapp.planning.progress import Progress
from webapp.planning.wording import named, percent, span, when
from webapp.trade.air.climate import Air
from webapp.trade.air.degrees import degrees, difference
from webapp.trade.air.rules import Dew, damp
from webapp.trade.waits.assembly import assembly


class AirFlagger:
    """Flags operations for the air of their rooms."""

    def __init__(self, graph: Graph, zone: tzinfo) -> None:
        self.graph, self.zone = graph, zone
        self.unit = graph.document.temperature_unit
        self.now = graph.document.now

    def of_node(self, node: Node, laid: Laid) -> Iterator[Flag]:
        """All that the air does to one operation."""
        if node.product is None or laid.start is None or node.progress is Progress.ABANDONED:
            return
        if laid.chill is not None:
            yield self._chill(node, node.product, laid)
        yield from self._open_time(node, node.product, laid.start)
        yield from self._damp(node, node.product, self._worked(node, laid))

    def _when(self, instant: int) -> str:
        return when(instant, self.zone)

    def _degrees(self, celsius: float) -> str:
        return degrees(celsius, self.unit)

    def _worked(self, node: Node, laid: Laid) -> list[Span]:
        """When somebody has or will have his hands on it."""
        spans = list(laid.slot.spans) if laid.slot is not None else []
        if node.progress is Progress.RUNNING and laid.start is not None:
            return [(laid.start, self.now), *spans]
        return spans or [(laid.start or 0, laid.end or 0)]

    def _chill(self, node: Node, product: Product, laid: Laid) -> Flag:
        chill = laid.chill
        assert chill is not None
        name = named(node.operation)
        cold = f"{self._degrees(chill.temperature)} {self._when(chill.at)}"
        needs = f"{self._degrees(product.lowest or 0.0)} until {self._when(chill.until)}"
        match chill.flag:
            case FlagName.TOO_COLD:
                moved = "where it is fixed" if node.operation.pinned else "with no warmer start in 14 days"
                says = (
                    f"{name} would begin {self._when(laid.start or 0)} and needs {needs} for {product.name} to hold, "
                    f"but it will be {cold}, {moved}. Warm the wood and the room and enter a reading, or take a "
                    "product that stands the cold."
                )
            case FlagName.SUSPECT_JOINT:
                says = (
                    f"{name} was at {cold}; {product.name} needs {needs} to hold. The film may not have formed, and "
                    "warming it now does not mend it. Test it, then do it again, or say that it holds."
                )
            case _:
                says = (
                    f"{name} needs {needs} for {product.name} to hold, but it will be {cold}. "
                    "Bring it where it stays warm, or keep the room warm until then."
                )
        return Flag(chill.flag, says, chill.at)

    def _open_time(self, node: Node, product: Product, start: int) -> Iterator[Flag]:
        minutes = node.operation.assembly
        if minutes is None or product.open_minutes is None:
            return
        temperature = self.graph.air(node).at(start).temperature
        given = assembly(product.open_minutes, node.pace, temperature)
        parts = given.parts(minutes)
        if parts > 1:
            warm = "" if temperature is None else f" at {self._degrees(temperature)}"
            says = (
                f"{named(node.operation)} takes {span(minutes)} to put together, but {product.name} stays open for "
                f"{round(given.open, 1):g} min{warm}. Glue it up in {parts} parts, or take one that stays open longer."
            )
            yield Flag(FlagName.OPEN_TIME, says, start)

    def _damp(self, node: Node, product: Product, spans: list[Span]) -> Iterator[Flag]:
        if product.humidity_max is None and product.dew_gap is None:
            return
        airs = [air for begin, end in spans for air in self.graph.air(node).pieces(begin, end)]
        found = [(air, damp(air, product.humidity_max, product.dew_gap)) for air in airs]
        yield from islice((self._too_humid(node, product, air, one.humid) for air, one in found if one.humid), 1)
        yield from islice((self._too_near(node, product, air, one.dew) for air, one in found if one.dew), 1)

    def _too_humid(self, node: Node, product: Product, air: Air, humid: float) -> Flag:
        says = (
            f"{named(node.operation)} meets a humidity of {percent(humid)} {self._when(air.begin)}; "
            f"{product.name} stands {percent(product.humidity_max or 0.0)} at most. "
            "Warm the room or dry the air, or wait for drier air."
        )
        return Flag(FlagName.TOO_HUMID, says, air.begin)

    def _too_near(self, node: Node, product: Product, air: Air, dew: Dew) -> Flag:
        says = (
            f"{named(node.operation)} meets air of {self._degrees(dew.point + dew.gap)} {self._when(air.begin)}, "
            f"its dew point {difference(dew.gap, self.unit)} below at {self._degrees(dew.point)}; "
            f"{product.name} wants {difference(product.dew_gap or 0.0, self.unit)}. "
            "Warm the room or dry the air, or wait."
        )
        return Flag(FlagName.DEW_POINT, says, air.begin)
