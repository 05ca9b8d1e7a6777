"""What work is to keep away from while it is laid: cold, wet coats and dust, things in use, the end of a window."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.planning.cold import Cold
from webapp.planning.graph import Node
from webapp.planning.holding import Holdings
from webapp.planning.needs import Lead
from webapp.planning.planned import Span
from webapp.planning.roster import NO_BAR, Bar
from webapp.trade.air.readings import NEVER


@dataclass(frozen=True, slots=True)
class Bars:
    """What bars the work of one operation: what is held, cold, an instant to begin before, one to end by."""

    holdings: Holdings
    node: Node
    cold: Cold | None = None
    begin_before: int = NEVER
    end_by: int | None = None

    def bar(self, lead: Lead) -> Bar:
        """The same for the roster, with what is put in before the work."""
        needs = self.node.needs.any or bool(lead.pieces)
        if self.cold is None and self.end_by is None and not needs:
            return NO_BAR if self.begin_before == NEVER else Bar(lambda _: None, self.begin_before)
        by = self.begin_before if self.end_by is None else min(self.begin_before, self.end_by)
        chilly = None if self.cold is None else self.cold.later(lead.minutes)

        def later(spans: Sequence[Span]) -> int | None:
            if self.end_by is not None and spans[-1][1] > self.end_by:
                return by
            again = None if chilly is None else chilly(spans)
            way = self.holdings.in_the_way(self.node, spans, lead) if needs else None
            if way is None:
                return again
            return max(way.until, spans[0][0] + 1, again or 0)

        return Bar(later, by)
