"""Readings of moisture in a shop, the meter they were made with, and two houses."""

from typing import Any

from webapp.moisture.models import House, MaterialMoisture, Meter, PartMoisture, StockMoisture


def wet(into: Any, now: Any) -> Meter:
    """Lay the rows down and return the meter."""
    place = {"shop_id": into.shop.id}
    tables = {"by_temperature": [[50.0, None, 2.0]], "by_species": [[into.name("oak"), None, 0.5]]}
    meter: Meter = into.put(Meter(**place, name=into.name("meter"), unit="F", **tables))
    into.put(Meter(**place, name=into.name("other meter"), unit="F", by_temperature=[], by_species=[]))
    of: tuple[tuple[Any, dict[str, int]], ...] = (
        (StockMoisture, {}),
        (MaterialMoisture, {"material_id": into.material.id}),
        (PartMoisture, {"part_id": into.part.id}),
    )
    read = {"at": now, "arrived_at": now, "maker_id": into.owner.id, "place": into.name("middle"), "number": 1, **place}
    for table, thing in of:
        into.put(table(**thing, **read, revision=1, reading=12.0, meter=meter.name))
        into.put(table(**thing, **read, revision=2, reading=11.0, species=into.name("oak")))
    into.put(House(**place, place="indoors, dry Southwest", low=4, high=9))
    own = {"place": "own figures", "low": 6, "high": 12, "source": into.name("read")}
    into.put(House(**place, build_id=into.build.id, **own))
    return meter
