"""How what was typed becomes a row: a reading put right by its meter's table, a meter with its tables."""

from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.moisture.forms import MeterForm, MoistureForm
from webapp.moisture.models import Meter
from webapp.moisture.subjects import Subject
from webapp.trade.wood import moisture_table
from webapp.trade.wood.moisture_meter import Meter as Table
from webapp.trade.wood.moisture_meter import Point, SpeciesPoint, WarmthPoint
from webapp.trade.wood.moisture_reading import corrected
from webapp.web.guard import visitor

Lines = list[list[Any]]


def meters_of(db: Session, shop_id: int) -> list[Meter]:
    return list(db.scalars(select(Meter).where(Meter.shop_id == shop_id).order_by(Meter.name)))


def table_of(meter: Meter) -> Table:
    """Return a meter as the trade floor has it; raises MoistureError where its table contradicts itself."""
    by_temperature = tuple(WarmthPoint(at, Point(add, shows)) for at, shows, add in meter.by_temperature)
    by_species = tuple(SpeciesPoint(name, Point(add, shows)) for name, shows, add in meter.by_species)
    return Table(meter.name, meter.unit, by_temperature, by_species, meter.species_first)


def typed(meter: Meter) -> dict[str, Any]:
    """Return a meter as its form shows it."""
    table = table_of(meter)
    return {
        **{name: getattr(meter, name) for name in ("name", "unit", "species_first", "version")},
        "by_temperature": moisture_table.show_warmth(table.by_temperature),
        "by_species": moisture_table.show_species(table.by_species),
    }


def fill(meter: Meter, form: MeterForm) -> None:
    """Put what was typed into the meter; raises MoistureError where its table contradicts itself."""
    warmth = moisture_table.read_warmth(form.by_temperature.data or "")
    species = moisture_table.read_species(form.by_species.data or "")
    Table(form.name.data or "", form.unit.data, warmth, species)
    meter.name, meter.unit, meter.species_first = form.name.data or "", form.unit.data, form.species_first.data
    meter.by_temperature = [[line.temperature, line.point.reading, line.point.add] for line in warmth]
    meter.by_species = [[line.species, line.point.reading, line.point.add] for line in species]


def read(db: Session, subject: Subject, form: MoistureForm, now: datetime, place: tuple[int, int]) -> Any:
    """Return the row of a reading, put right by its meter's table; `place` is its number and revision."""
    found = _row(subject, now, place)
    found.at = form.at.data or now
    found.reading, found.temperature = form.reading.data, form.temperature.data
    found.meter, found.species, found.place = form.meter.data, form.species.data, form.place.data or ""
    meter = next((one for one in meters_of(db, found.shop_id) if one.name == found.meter), None)
    if meter is not None:
        made = corrected(found.reading, table_of(meter), found.temperature, found.species or None)
        found.moisture, found.why_not = made.moisture, made.why_not
    return found


def taken_back(subject: Subject, row: Any, now: datetime) -> Any:
    """Return the row that takes a reading back; it stays to be seen."""
    found = _row(subject, now, (row.number, row.revision + 1))
    found.at = row.at
    return found


def _row(subject: Subject, now: datetime, place: tuple[int, int]) -> Any:
    who = visitor()
    return subject.table(
        shop_id=who.shop.id,
        maker_id=who.maker_id,
        number=place[0],
        revision=place[1],
        arrived_at=now,
        unit=who.shop.temperature_unit,
        **subject.place,
    )
