"""From a shop document in JSON, already found to be right, to the dataclasses of `network.py`.

Here the document's units become planning's: °F become °C, times become minutes since 1970 UTC (cut or rounded up as the
format says), hours of a label stay hours.
"""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from webapp.planning import iso, network
from webapp.planning.instants import cut, up
from webapp.planning.schema import WEEKDAYS
from webapp.trade.waits.cure import Stage, Tend, Window

_Json = Mapping[str, Any]

_PLACES = 9  # decimals of a degree: finer than any rounding of the unit


def to_document(data: _Json) -> network.Document:
    """Return a shop document as dataclasses.

    Takes:   the document as read from JSON, without a fault in it.
    Returns: the document.
    Raises:  KeyError, TypeError or ValueError for a document with faults.
    Source:  the shop document.

    >>> shop = {"time_zone": "UTC", "hours": [], "extra": [], "makers": 2, "climate": {"day": 68, "night": 50}}
    >>> document = to_document({"now": "1970-01-01T00:00:30Z", "temperature_unit": "F", "shop": shop})
    >>> document.now, document.shop.climate.day, [maker.name for maker in document.shop.makers]
    (1, 20.0, ['maker 1', 'maker 2'])
    """
    unit = data.get("temperature_unit") or "C"
    degrees = Degrees(unit)
    return network.Document(
        now=up(iso.instant(data["now"])),
        shop=_shop(data["shop"], degrees),
        products=tuple(product(one, degrees) for one in data.get("products", ())),
        builds=tuple(_build(build, degrees) for build in data.get("builds", ())),
        temperature_unit=unit,
    )


class Degrees:
    """Degrees of one unit as °C: points of the scale, and differences."""

    def __init__(self, unit: str) -> None:
        self._fahrenheit = unit == "F"

    def point(self, value: float | None) -> float | None:
        """A temperature."""
        if value is None or not self._fahrenheit:
            return value
        return round((value - 32) / 1.8, _PLACES)

    def difference(self, value: float | None) -> float | None:
        """A difference of temperatures."""
        if value is None or not self._fahrenheit:
            return value
        return round(value / 1.8, _PLACES)


CELSIUS = Degrees("C")


def _given(data: _Json, **names: str) -> dict[str, Any]:
    """The values that are there, by the field they go to; what is null or absent keeps the field's default."""
    return {field: data[key] for field, key in names.items() if data.get(key) is not None}


def _shop(data: _Json, degrees: Degrees) -> network.Shop:
    makers = data.get("makers", 1)
    named = isinstance(makers, list)
    return network.Shop(
        time_zone=data["time_zone"],
        hours=_openings(data["hours"]),
        closed=tuple(
            network.Closed(iso.day(c["from"]), iso.day(c.get("to", c["from"])), c.get("note") or "")
            for c in data.get("closed", ())
        ),
        extra=tuple(
            network.Extra(iso.day(e["date"]), iso.time_of_day(e["open"]), iso.time_of_day(e["close"]))
            for e in data.get("extra", ())
        ),
        makers=tuple(map(_maker, makers)) if named else unnamed(int(makers)),
        named=named,
        least_minutes=int(data.get("least_minutes", 0)),
        equipment=tuple(network.Equipment(e["name"], int(e["count"])) for e in data.get("equipment", ())),
        rooms=tuple(_room(room, degrees) for room in data.get("rooms", ())),
        climate=_climate({"day_from": "07:00", "day_to": "22:00", "humidity": 50, **data["climate"]}, degrees),
    )


def unnamed(count: int) -> tuple[network.Maker, ...]:
    """So many people without names of their own."""
    return tuple(network.Maker(f"maker {number}") for number in range(1, count + 1))


def _openings(data: Iterable[_Json]) -> tuple[network.Opening, ...]:
    return tuple(
        network.Opening(
            tuple(WEEKDAYS.index(day) for day in o["days"]), iso.time_of_day(o["open"]), iso.time_of_day(o["close"])
        )
        for o in data
    )


def _maker(data: _Json) -> network.Maker:
    hours = data.get("hours")
    return network.Maker(data["name"], None if hours is None else _openings(hours))


def _room(data: _Json, degrees: Degrees) -> network.Room:
    climate = data.get("climate")
    return network.Room(
        data["name"],
        _whole(data.get("drying_places")),
        int(data.get("settle_minutes", 0)),
        None if climate is None else _climate(climate, degrees),
    )


def _climate(data: _Json, degrees: Degrees) -> network.Climate:
    return network.Climate(
        day=degrees.point(data.get("day")),
        night=degrees.point(data.get("night")),
        day_from=_time(data.get("day_from")),
        day_to=_time(data.get("day_to")),
        humidity=data.get("humidity"),
        readings=tuple(
            network.Reading(
                cut(iso.instant(r["at"])),
                degrees.point(r.get("temperature")),
                r.get("humidity"),
                r.get("room"),
                r.get("counts", True),
            )
            for r in data.get("readings", ())
        ),
    )


def product(data: _Json, degrees: Degrees = CELSIUS) -> network.Product:
    """Return a product.

    Takes:   its mapping as the document has it, with its name; the unit of its temperatures.
    Returns: the product, in °C.
    Raises:  KeyError for one without a name, or a stage without its hours.
    Source:  the shop document.

    >>> product({"name": "yellow PVA", "rated_at": 59, "doubles_per": 18}, Degrees("F")).pace.doubles_per
    10.0
    """
    return network.Product(
        name=data["name"],
        family=data.get("family"),
        rated_at=degrees.point(data.get("rated_at")),
        doubles_per=degrees.difference(data.get("doubles_per")),
        faster_per=degrees.difference(data.get("faster_per")),
        lowest=degrees.point(data.get("lowest")),
        counts_above=degrees.point(data.get("counts_above")),
        humidity_max=data.get("humidity_max"),
        dew_gap=degrees.difference(data.get("dew_gap")),
        open_minutes=_whole(data.get("open_minutes")),
        dust_free=data.get("dust_free"),
        stages=stages(data.get("stages", ()), degrees),
        tend=tend(data.get("tend", ())),
        recoat=windows(data.get("recoat", ())),
        recoat_over={layer: windows(found) for layer, found in data.get("recoat_over", {}).items()},
        missed_needs=tuple(data.get("missed_needs", ("scuff",))),
        **_given(data, faster_when_warm="faster_when_warm", lowest_for_hours="lowest_for_hours"),
    )


def stages(data: Iterable[_Json], degrees: Degrees = CELSIUS) -> tuple[Stage, ...]:
    """Return the stages of a label, or of one operation.

    Takes:   the list as the document has it; the unit of its differences.
    Returns: stages in their order; hours, and differences in °C.
    Raises:  KeyError for a stage without a name or hours.
    Source:  the shop document.

    >>> [(one.name, one.hours) for one in stages([{"name": "dry", "hours": 4}])]
    [('dry', 4)]
    """
    return tuple(
        Stage(s["name"], s["hours"], "doubles_per" in s, degrees.difference(s.get("doubles_per"))) for s in data
    )


def tend(data: Iterable[_Json]) -> tuple[Tend, ...]:
    """Return the tending inside a wait.

    Takes:   the list as the document has it.
    Returns: tendings in their order, in whole minutes.
    Raises:  KeyError for one without its key, its time or its length.
    Source:  the shop document.

    >>> [(one.at, one.within) for one in tend([{"key": "wipe", "at_minutes": 20, "minutes": 15}])]
    [(20, 0)]
    """
    return tuple(
        Tend(t["key"], int(t["at_minutes"]), int(t.get("within_minutes") or 0), int(t["minutes"])) for t in data
    )


def windows(data: Iterable[_Json]) -> tuple[Window, ...]:
    """Return the recoat windows of a label.

    Takes:   the list as the document has it.
    Returns: windows in their order, in hours.
    Raises:  KeyError for one that does not say from when.
    Source:  the shop document.

    >>> [(one.from_hours, one.to_hours, one.needs) for one in windows([{"from_hours": 4, "needs": ["sand"]}])]
    [(4, None, ('sand',))]
    """
    return tuple(Window(w["from_hours"], w.get("to_hours"), tuple(w.get("needs") or ())) for w in data)


def _build(data: _Json, degrees: Degrees) -> network.Build:
    return network.Build(
        name=data["name"],
        operations=tuple(_operation(operation, degrees) for operation in data["operations"]),
        due=_day_or(data.get("due"), cut),
        not_before=_day_or(data.get("not_before"), up),
        weight=data.get("weight", 1),
        done_at=tuple(network.DoneAt(d["operation"], d["stage"]) for d in data.get("done_at", ())),
    )


def _operation(data: _Json, degrees: Degrees) -> network.Operation:
    minutes = data["minutes"]
    estimate = minutes if isinstance(minutes, dict) else {"likely": minutes}
    return network.Operation(
        key=data["key"],
        kind=data["kind"],
        minutes=int(estimate["likely"]),
        low=_whole(estimate.get("low")),
        high=_whole(estimate.get("high")),
        stages=stages(data.get("stages", ()), degrees),
        equipment=tuple(network.Hold(e["name"], int(e["count"]), e.get("until")) for e in data.get("equipment", ())),
        after=tuple(
            network.After(a["operation"], a.get("stage"), int(a.get("lag_minutes", 0)), _whole(a.get("within_minutes")))
            for a in data.get("after", ())
        ),
        not_before=_up(data.get("not_before")),
        pinned=_pin(data.get("pinned")),
        assembly=_whole(data.get("assembly_minutes")),
        started=_cut(data.get("started")),
        finished=_up(data.get("finished")),
        abandoned=_cut(data.get("abandoned")),
        wait_began=_cut(data.get("wait_began")),
        worked=int(data.get("worked_minutes", 0)),
        count=int(data.get("count", 1)),
        done=int(data.get("done", 0)),
        makers=int(data.get("makers", 1)),
        reached={stage: up(iso.instant(at)) for stage, at in data.get("reached", {}).items()},
        overruled=tuple(data.get("overruled", ())),
        paused=data.get("paused", False),
        **_given(data, name="name", group="group", split="split", dusty="dusty", room="room", product="product"),
        **_given(data, over="over", again_for="again_for"),
    )


def _pin(data: _Json | None) -> network.Pin | None:
    if data is None:
        return None
    return network.Pin(up(iso.instant(data["at"])), None) if "at" in data else network.Pin(None, iso.day(data["on"]))


def _day_or(text: str | None, rounded: Any) -> int | date | None:
    if text is None:
        return None
    found = iso.day_or_instant(text)
    return int(rounded(found)) if isinstance(found, datetime) else found


def _time(text: str | None) -> int | None:
    return None if text is None else iso.time_of_day(text)


def _whole(number: float | None) -> int | None:
    return None if number is None else int(number)


def _cut(text: str | None) -> int | None:
    return None if text is None else cut(iso.instant(text))


def _up(text: str | None) -> int | None:
    return None if text is None else up(iso.instant(text))
