"""Readings of moisture in a shop, the meter they were made with, and two houses."""

from typing import Any

from webapp.moisture.models import (
    House,
    Leeway,
    Look,
    MaterialMoisture,
    Meter,
    OwnWood,
    PartMoisture,
    StockMoisture,
    Watch,
)


def wet(into: Any, now: Any) -> dict[str, Any]:
    """Lay the rows down and return what an address has for them."""
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
    house = {"place": "own figures", "low": 6, "high": 12, "source": into.name("read")}
    into.put(House(**place, build_id=into.build.id, **house))
    wood = {"radial": "0.00101", "tangential": "0.00186", "source": into.name("label")}
    own: OwnWood = into.put(OwnWood(**place, name=into.name("teak"), **wood))
    sizes = {"distance_typed": "12 in", "screw_typed": "5 mm"}
    leeway: Leeway = into.put(Leeway(**place, part_id=into.part.id, kind="slot", **sizes))
    told = {"width_typed": "36 in", "width_nm": 914_400_000}
    watch: Watch = into.put(Watch(**place, part_id=into.part.id, name=into.name("width"), moisture=9, **told))
    seen = {"watch_id": watch.id, "at": now, "maker_id": into.owner.id, "number": 1, "revision": 1, **place}
    look: Look = into.put(Look(**seen, note=into.name("gap"), **told))
    return {
        "number": 1,
        "kind": "slot",
        "moisture.meters": meter.id,
        "moisture.woods": own.id,
        "moisture.watches": watch.id,
        "moisture.watches.take_back:key": look.id,
        "moisture.movement": leeway.id,
    }
