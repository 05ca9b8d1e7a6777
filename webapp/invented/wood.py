"""Wood as it moves, in rows: readings by the meter, houses, what parts need room for, and what is looked at later."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy.orm import Session

from webapp.builds.models import Build, Part
from webapp.invented import shelf
from webapp.invented.parts import length_of
from webapp.invented.script import US, Cut, Moisture
from webapp.invented.script import House as Air
from webapp.invented.script import Watch as Watched
from webapp.invented.stand import Stand
from webapp.moisture.actions import table_of
from webapp.moisture.models import (
    LEEWAYS,
    House,
    Leeway,
    Look,
    MaterialMoisture,
    Meter,
    PartMoisture,
    StockMoisture,
    Watch,
)
from webapp.stock.models import Material
from webapp.trade.wood.moisture import degrees_in
from webapp.trade.wood.moisture_house import INDOORS, house
from webapp.trade.wood.moisture_reading import corrected


class Reads:
    """The meter of the shop, and what it shows."""

    def __init__(self, db: Session, stand: Stand) -> None:
        self._stand, self._unit = stand, stand.shop.temperature_unit
        by_temperature = [[degrees_in(celsius, self._unit), None, add] for celsius, add in shelf.BY_TEMPERATURE]
        by_species = [[wood, None, add] for wood, add in shelf.BY_SPECIES]
        tables = {"by_temperature": by_temperature, "by_species": by_species}
        meter = Meter(shop_id=stand.shop.id, name=shelf.METER, unit=self._unit, species_first=False, **tables)
        db.add(meter)
        self._table = table_of(meter)
        first = stand.now - timedelta(days=shelf.STOCK_AGO)
        self.add(db, None, shelf.STOCK, first, shelf.STOCK_WOOD)

    def add(
        self, db: Session, of: Material | Part | None, read: Iterable[Moisture], first: datetime, wood: str
    ) -> None:
        """Add what was read of boards, of a part, or of the shop's own stock, days after a first one."""
        table: type[Any] = StockMoisture
        place = {}
        if of is not None:
            is_part = isinstance(of, Part)
            table = PartMoisture if is_part else MaterialMoisture
            place = {"part_id" if is_part else "material_id": of.id}
        for number, one in enumerate(read, 1):
            at = self._stand.by_day(first + timedelta(days=one.days))
            db.add(table(number=number, revision=1, at=at, arrived_at=at, **place, **self._shown(one, wood)))

    def _shown(self, one: Moisture, wood: str) -> dict[str, Any]:
        made = corrected(one.shows, self._table, one.celsius, wood)
        return {
            "shop_id": self._stand.shop.id,
            "maker_id": self._stand.owner.id,
            "reading": one.shows,
            "temperature": one.celsius,
            "unit": self._unit,
            "meter": shelf.METER,
            "species": wood,
            "moisture": made.moisture,
            "why_not": made.why_not,
            "place": one.place,
        }


def add_usual_house(db: Session, stand: Stand) -> None:
    """Add what is usual where the pieces of the shop go."""
    usual = INDOORS[0] if stand.shop.length_unit == US else shelf.USUAL
    db.add(House(shop_id=stand.shop.id, place=usual.place, low=usual.low, high=usual.high, source=usual.source))


def add_house(db: Session, stand: Stand, build: Build, air: Air) -> None:
    """Add the house that a piece goes to, its air measured in both seasons."""
    unit = stand.shop.temperature_unit
    (dry, dry_humidity), (damp, damp_humidity) = air.dry, air.damp
    found = house((degrees_in(dry, unit), dry_humidity), (degrees_in(damp, unit), damp_humidity), unit)
    db.add(
        House(
            shop_id=build.shop_id,
            build_id=build.id,
            place=found.place,
            low=round(found.low, 2),
            high=round(found.high, 2),
            source=found.source,
            dry_temperature=dry,
            dry_humidity=dry_humidity,
            damp_temperature=damp,
            damp_humidity=damp_humidity,
        )
    )


def add_leeways(db: Session, stand: Stand, part: Part, cut: Cut) -> None:
    """Add what a part needs room for."""
    for one in cut.needs:
        sizes = zip(LEEWAYS[one.kind], one.metric.split(" x "), one.us.split(" x "), strict=True)
        typed = {f"{name}_typed": length_of(stand, metric, us).entered for name, metric, us in sizes}
        db.add(Leeway(shop_id=part.shop_id, part_id=part.id, kind=one.kind, **typed))


def add_watches(db: Session, stand: Stand, part: Part, cut: Cut) -> None:
    """Add the widths of a part that are looked at, and what was found."""
    db.add_all(_watch(stand, part, one) for one in cut.watches)


def _watch(stand: Stand, part: Part, one: Watched) -> Watch:
    width = length_of(stand, one.metric, one.us)
    row = Watch(shop_id=part.shop_id, part_id=part.id, name=one.name, moisture=one.moisture)
    row.width_typed, row.width_nm = width.entered, width.nanometres
    for number, look in enumerate(one.looks, 1):
        found = length_of(stand, look.metric, look.us)
        row.looks.append(
            Look(
                shop_id=part.shop_id,
                number=number,
                revision=1,
                at=stand.by_day(stand.now - timedelta(days=look.ago)),
                maker_id=stand.owner.id,
                width_typed=found.entered,
                width_nm=found.nanometres,
                note=stand.said(look.note),
            )
        )
    return row
