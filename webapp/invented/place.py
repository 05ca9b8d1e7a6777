"""The invented shop itself: where it is, who works there when, what stands in it. Two benches, one helper."""

from datetime import datetime
from typing import Any, NamedTuple

from webapp.invented.script import LONG, PRESS, SHORT
from webapp.planning import network

NAME = "The Owlgate shop"
HELPER_NAME = "Wim Ottel"
SHOP_ROOM, FINISHING_ROOM = "Shop", "Finishing room"

# (weekday from Monday 0, opens, closes) in minutes after midnight
MORNING, AFTERNOON = (8 * 60, 12 * 60 + 30), (13 * 60, 17 * 60)
WEEK = (*((day, *hours) for day in range(5) for hours in (MORNING, AFTERNOON)), (5, 9 * 60, 13 * 60))
HELPER_WEEK = ((3, 13 * 60, 17 * 60),)

EQUIPMENT = ((LONG, 8), (SHORT, 6), (PRESS, 1))
# name, drying places, minutes that dust hangs
ROOMS = ((SHOP_ROOM, None, 0), (FINISHING_ROOM, 3, 60))
CLIMATE = {"climate_day": 20.5, "climate_night": 17.0, "humidity": 48.0, "day_from": 7 * 60, "day_to": 21 * 60}
LEAST_MINUTES = 20

# days before now from which an hour costs so much, in minor units
OWNER_RATES = ((400, 4400), (120, 4800))
HELPER_RATES = ((400, 2200),)

SHOP_TIMES = ("Sharpening", "Sweeping", "Fetching wood", "Quoting")

US_ZONES = frozenset(
    "America/" + place
    for place in (
        *("New_York", "Detroit", "Chicago", "Menominee", "Denver", "Boise", "Phoenix", "Los_Angeles", "Anchorage"),
        *("Juneau", "Sitka", "Metlakatla", "Yakutat", "Nome", "Adak"),
    )
) | {"Pacific/Honolulu"}
US_REGIONS = ("US/", "America/Indiana/", "America/Kentucky/", "America/North_Dakota/")


class Units(NamedTuple):
    length: str
    temperature: str
    currency: str


def units(zone: str) -> Units:
    """Return what one measures and pays in where the clock goes by this zone."""
    if zone in US_ZONES or zone.startswith(US_REGIONS):
        return Units("in", "F", "USD")
    return Units("mm", "C", "EUR")


def settings(zone: str, at: datetime) -> dict[str, Any]:
    """Return the columns of the shop's row."""
    length, temperature, currency = units(zone)
    return {
        "name": NAME,
        "time_zone": zone,
        "currency": currency,
        "length_unit": length,
        "temperature_unit": temperature,
        "least_minutes": LEAST_MINUTES,
        "is_invented": True,
        "created_at": at,
        **CLIMATE,
    }


def planned(zone: str) -> network.Shop:
    """Return the shop's hours for planning: the owner keeps the shop's, the helper his own."""
    own = tuple(network.Opening((day,), opens, closes) for day, opens, closes in HELPER_WEEK)
    return network.Shop(
        time_zone=zone,
        hours=tuple(network.Opening((day,), opens, closes) for day, opens, closes in WEEK),
        makers=(network.Maker("owner"), network.Maker(HELPER_NAME, own)),
    )
