"""What a single value of a file must be, by the rules of the trade and the forms. A rule says what is wrong.

What a column has no rule for is held to its type alone.
"""

import re
from collections.abc import Callable, Collection
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from webapp.builds.models import STATUSES
from webapp.exports.kinds import KINDS
from webapp.exports.reading import shown
from webapp.moisture.models import LEEWAYS, Measured
from webapp.planning.schema import MOST_MINUTES
from webapp.products.models import FINISH, GLUE
from webapp.shops.models import HELPER, OWNER
from webapp.stock.models import KINDS as MATERIALS
from webapp.trade import lengths
from webapp.trade.money import CURRENCIES
from webapp.trade.sizes.fit_classes import KINDS as FITS
from webapp.trade.wood.movement import CUTS
from webapp.trade.wood.species import coefficient

Rule = Callable[[Any], str | None]

MOST_MINOR = 10**15
A_DAY = 24 * 60
SIDES = ("thickness", "width", "length")


def between(least: float, most: float) -> Rule:
    return lambda value: None if least <= value <= most else f"{shown(value)} is not from {least:,} to {most:,}"


def one_of(words: Collection[str], *, told: bool = True) -> Rule:
    listed = f"; it is one of {', '.join(words)}" if told else ""
    return lambda value: None if value in words else f"{shown(value)} is not known here{listed}"


def _zone(value: str) -> str | None:
    return None if value in _zones() else f"there is no time zone {shown(value)}"


@cache
def _zones() -> set[str]:
    return available_timezones()


def _length(value: str) -> str | None:
    try:
        lengths.read(value, "in", nominal=True)
    except ValueError as error:
        return f"{shown(value)} is no length: {error}"
    return None


def _share(value: str) -> str | None:
    try:
        coefficient(value)
    except ValueError as error:
        return f"{shown(value)} is no share of a width: {error}"
    return None


def _needed(value: str) -> str | None:
    return None if value else "this is empty"


MINUTES, TIME, COUNT = between(0, MOST_MINUTES), between(0, A_DAY), between(1, 1_000_000)
CELSIUS, PERCENT, MONEY = between(-60, 300), between(0, 100), between(-MOST_MINOR, MOST_MINOR)
NANOMETRES = between(1, 10**15)
UNITS = ("C", "F")

MOISTURES = tuple(kind.table.name for kind in KINDS if issubclass(kind.model, Measured))
MOISTURE: dict[str, Rule] = {
    **dict.fromkeys(("number", "revision"), COUNT),
    **dict.fromkeys(("reading", "moisture"), PERCENT),
    "temperature": CELSIUS,
    "unit": one_of(UNITS),
}

RULES: dict[str, Rule] = {
    "shop.time_zone": _zone,
    "shop.currency": one_of(CURRENCIES, told=False),
    "shop.length_unit": one_of(("in", "mm")),
    "shop.temperature_unit": one_of(UNITS),
    "shop.least_minutes": MINUTES,
    "shop.climate_day": CELSIUS,
    "shop.climate_night": CELSIUS,
    "shop.day_from": TIME,
    "shop.day_to": TIME,
    "shop.humidity": PERCENT,
    "maker.role": one_of((OWNER, HELPER)),
    "rate.hour_minor": between(0, MOST_MINOR),
    "opening.weekday": between(0, 6),
    "opening.opens": TIME,
    "opening.closes": TIME,
    "extra.opens": TIME,
    "extra.closes": TIME,
    "equipment.count": between(0, 1_000_000),
    "room.drying_places": COUNT,
    "room.settle_minutes": MINUTES,
    "room.climate_day": CELSIUS,
    "room.climate_night": CELSIUS,
    "room.humidity": PERCENT,
    "reading.temperature": CELSIUS,
    "reading.unit": one_of(UNITS),
    "reading.humidity": PERCENT,
    "meter.name": _needed,
    "own_wood.name": _needed,
    "own_wood.radial": _share,
    "own_wood.tangential": _share,
    "own_wood.source": _needed,
    "part.cut": one_of(("", *CUTS)),
    "watch.name": _needed,
    "watch.moisture": PERCENT,
    **{f"{table}.width_nm": NANOMETRES for table in ("watch", "look")},
    **{f"{table}.width_typed": _length for table in ("watch", "look")},
    **dict.fromkeys(("look.number", "look.revision"), COUNT),
    "leeway.kind": one_of(LEEWAYS),
    **{f"leeway.{size}_typed": _length for sizes in LEEWAYS.values() for size in sizes},
    "meter.unit": one_of(UNITS),
    "house.place": _needed,
    **dict.fromkeys(("house.low", "house.high", "house.near", "house.dry_humidity", "house.damp_humidity"), PERCENT),
    **dict.fromkeys(("house.dry_temperature", "house.damp_temperature"), CELSIUS),
    **{f"{table}.{name}": rule for table in MOISTURES for name, rule in MOISTURE.items()},
    "product.family": _needed,
    "product.use": one_of((GLUE, FINISH)),
    "figures.number": COUNT,
    "build.status": one_of(STATUSES),
    "build.weight": between(0, 1_000_000),
    "operation.minutes": between(1, MOST_MINUTES),
    "operation.low": between(1, MOST_MINUTES),
    "operation.high": between(1, MOST_MINUTES),
    "operation.makers": between(1, 200),
    "operation.count": COUNT,
    "operation.assembly_minutes": MINUTES,
    "link.lag_minutes": MINUTES,
    "link.within_minutes": MINUTES,
    "hold.count": COUNT,
    "part.count": COUNT,
    **{f"part.{side}_nm": NANOMETRES for side in SIDES},
    **{f"{table}.{side}_typed": _length for table in ("part", "material") for side in SIDES},
    "size.key": _needed,
    "size.name": _needed,
    "size.target_nm": NANOMETRES,
    "size.target_typed": _length,
    "size.tolerance_nm": between(0, 10**15),
    "size.tolerance_typed": _length,
    "size.fit": one_of(("", *FITS)),
    "photo.width": between(1, 1_000_000),
    "photo.height": between(1, 1_000_000),
    "photo.version": between(1, 99_999),
    "photo.shown_sha256": lambda value: None if re.fullmatch("[0-9a-f]{64}", value) else "this is no SHA-256",
    "material.kind": one_of(MATERIALS),
    "material.total_minor": MONEY,
    "material.pieces": COUNT,
    "terms.price_minor": MONEY,
    "terms.consumables_minor": MONEY,
    "payment.amount_minor": MONEY,
    **{f"{table}.name": _needed for table in ("shop", "maker", "equipment", "room", "product", "build", "operation")},
    "operation.key": _needed,
    "operation.kind": _needed,
}
