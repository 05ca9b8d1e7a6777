"""From rows to what planning reckons with: a shop's hours, the waits of a label, the tending inside them."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from webapp.planning import instants, network
from webapp.planning.hours import Hours
from webapp.shops.document import open_hours
from webapp.shops.models import Maker, Shop
from webapp.trade.cure import Stage, Tend, Window

Json = Mapping[str, Any]
ONE_DAY = timedelta(days=1)


def own_hours(shop: Shop, maker: Maker | None) -> Hours:
    """Return when a maker is in: by hours of his own where he has them, else the shop's."""
    if maker is None or not maker.openings:
        return open_hours(shop)
    return Hours(
        network.Shop(
            time_zone=shop.time_zone,
            hours=tuple(network.Opening((row.weekday,), row.opens, row.closes) for row in maker.openings),
            closed=tuple(network.Closed(row.first_on, row.last_on) for row in shop.closed),
            extra=tuple(network.Extra(row.on_day, row.opens, row.closes) for row in shop.extra),
        )
    )


def closings(hours: Hours, first: datetime, last: datetime) -> list[datetime]:
    """Return the last closing of each day on which the shop is open, from the day of one moment to that of another."""
    found = (hours.last_closing(day) for day in _days(_day(first, hours.zone), _day(last, hours.zone)))
    return [instants.moment(closing) for closing in found if closing is not None]


def _day(moment: datetime, zone: ZoneInfo) -> date:
    return moment.astimezone(zone).date()


def _days(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first += ONE_DAY


def stages_of(data: Iterable[Json] | None) -> tuple[Stage, ...]:
    """Return the stages of a label or of an operation, in °C."""
    return tuple(Stage(s["name"], s["hours"], "doubles_per" in s, s.get("doubles_per")) for s in data or ())


def tend_of(data: Iterable[Json] | None) -> tuple[Tend, ...]:
    """Return the tending of a label or of an operation."""
    return tuple(
        Tend(t["key"], int(t["at_minutes"]), int(t.get("within_minutes") or 0), int(t["minutes"])) for t in data or ()
    )


def windows_of(lower: Json, upper: Json, lower_name: str, lower_family: str) -> tuple[Window, ...]:
    """Return when the upper product may go over the lower: by its own word about that layer, else by the lower's."""
    over = upper.get("recoat_over") or {}
    found = over.get(lower_name) or over.get(lower_family) or lower.get("recoat") or ()
    return tuple(Window(w["from_hours"], w.get("to_hours"), tuple(w.get("needs") or ())) for w in found)
