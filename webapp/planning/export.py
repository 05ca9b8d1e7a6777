"""A document of dataclasses as the shop document in JSON again: what a server hands out and reads back.

What has its default is left out. Times are written in the shop's zone, temperatures in the document's unit.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date, tzinfo
from typing import Any

from webapp.planning import iso, network
from webapp.planning.instants import moment
from webapp.planning.schema import WEEKDAYS
from webapp.trade.waits.cure import Stage, Window

_PLACES = 6  # decimals of a degree


def export(document: network.Document) -> dict[str, Any]:
    """Return a document as the mapping that `document.read` reads.

    Takes:   the document.
    Returns: texts, numbers, lists and mappings, ready for `json.dumps`; reading them gives the same document.
    Raises:  IsoError for a zone that does not exist.
    Source:  the shop document, "Input".

    >>> export(network.Document(0, network.Shop("Europe/Oslo", ())))["now"]
    '1970-01-01T01:00:00+01:00'
    """
    return _Export(document).document()


def _kept(default: Any = None, **values: Any) -> dict[str, Any]:
    """The values that are not their default: None, an empty list, or the one given."""
    return {
        key: value for key, value in values.items() if value is not None and value not in ([], {}) and value != default
    }


def _clock(minutes: int | None) -> str | None:
    return None if minutes is None else f"{minutes // 60:02}:{minutes % 60:02}"


def _openings(openings: Iterable[network.Opening]) -> list[dict[str, Any]]:
    return [
        {"days": [WEEKDAYS[day] for day in one.days], "open": _clock(one.open), "close": _clock(one.close)}
        for one in openings
    ]


def _windows(windows: Iterable[Window]) -> list[dict[str, Any]]:
    return [{"from_hours": one.from_hours, **_kept(to_hours=one.to_hours, needs=list(one.needs))} for one in windows]


class _Export:
    def __init__(self, document: network.Document) -> None:
        self.source = document
        self.zone: tzinfo = iso.zone(document.shop.time_zone)
        fahrenheit = document.temperature_unit == "F"
        self.point: Callable[[float | None], float | None] = _scaled(1.8, 32) if fahrenheit else _as_is
        self.difference: Callable[[float | None], float | None] = _scaled(1.8, 0) if fahrenheit else _as_is

    def document(self) -> dict[str, Any]:
        return {
            "benchtide": 1,
            "now": self.at(self.source.now),
            "temperature_unit": self.source.temperature_unit,
            "shop": self.shop(self.source.shop),
            "products": [self.product(product) for product in self.source.products],
            "builds": [self.build(build) for build in self.source.builds],
        }

    def at(self, instant: int | date | None) -> str | None:
        if instant is None or isinstance(instant, date):
            return None if instant is None else instant.isoformat()
        return moment(instant, self.zone).isoformat()

    def shop(self, shop: network.Shop) -> dict[str, Any]:
        makers = [
            {"name": one.name, **({} if one.hours is None else {"hours": _openings(one.hours)})} for one in shop.makers
        ]
        return {
            "time_zone": shop.time_zone,
            "hours": _openings(shop.hours),
            "closed": [
                {"from": self.at(one.first), "to": self.at(one.last), **_kept("", note=one.note)} for one in shop.closed
            ],
            "extra": [
                {"date": self.at(one.day), "open": _clock(one.open), "close": _clock(one.close)} for one in shop.extra
            ],
            "makers": makers if shop.named else len(makers),
            "least_minutes": shop.least_minutes,
            "equipment": [{"name": one.name, "count": one.count} for one in shop.equipment],
            "rooms": [self.room(room) for room in shop.rooms],
            "climate": {**self.air(shop.climate), "readings": [self.reading(one) for one in shop.climate.readings]},
        }

    def room(self, room: network.Room) -> dict[str, Any]:
        climate = None if room.climate is None else self.air(room.climate)
        kept = _kept(drying_places=room.drying_places, climate=climate)
        return {"name": room.name, "settle_minutes": room.settle, **kept}

    def air(self, climate: network.Climate) -> dict[str, Any]:
        return _kept(
            day=self.point(climate.day),
            night=self.point(climate.night),
            day_from=_clock(climate.day_from),
            day_to=_clock(climate.day_to),
            humidity=climate.humidity,
        )

    def reading(self, one: network.Reading) -> dict[str, Any]:
        kept = _kept(temperature=self.point(one.temperature), humidity=one.humidity, room=one.room)
        return {"at": self.at(one.at), **kept, "counts": one.counts}

    def stages(self, stages: Iterable[Stage]) -> list[dict[str, Any]]:
        return [
            {
                "name": one.name,
                "hours": one.hours,
                **({"doubles_per": self.difference(one.doubles_per)} if one.own_rule else {}),
            }
            for one in stages
        ]

    def product(self, product: network.Product) -> dict[str, Any]:
        return {
            "name": product.name,
            **_kept(
                family=product.family,
                rated_at=self.point(product.rated_at),
                doubles_per=self.difference(product.doubles_per),
                faster_when_warm=product.faster_when_warm or None,
                faster_per=self.difference(product.faster_per),
                lowest=self.point(product.lowest),
                counts_above=self.point(product.counts_above),
                humidity_max=product.humidity_max,
                dew_gap=self.difference(product.dew_gap),
                open_minutes=product.open_minutes,
                dust_free=product.dust_free,
                stages=self.stages(product.stages),
                recoat=_windows(product.recoat),
                recoat_over={layer: _windows(windows) for layer, windows in product.recoat_over.items()},
            ),
            "lowest_for_hours": product.lowest_for_hours,
            "missed_needs": list(product.missed_needs),
            "tend": [
                {"key": t.key, "at_minutes": t.at, "within_minutes": t.within, "minutes": t.minutes}
                for t in product.tend
            ],
        }

    def build(self, build: network.Build) -> dict[str, Any]:
        return {
            "name": build.name,
            "weight": build.weight,
            **_kept(due=self.at(build.due), not_before=self.at(build.not_before)),
            "done_at": [{"operation": one.operation, "stage": one.stage} for one in build.done_at],
            "operations": [self.operation(operation) for operation in build.operations],
        }

    def operation(self, one: network.Operation) -> dict[str, Any]:
        likely = one.minutes if one.low is None else {"low": one.low, "likely": one.minutes, "high": one.high}
        return {
            "key": one.key,
            "kind": one.kind,
            "minutes": likely,
            **_kept(
                name=one.name,
                group=one.group,
                room=one.room,
                product=one.product,
                stages=self.stages(one.stages),
                equipment=[{"name": h.name, "count": h.count, **_kept(until=h.until)} for h in one.equipment],
                after=[_after(after) for after in one.after],
                over=one.over,
                assembly_minutes=one.assembly,
                overruled=list(one.overruled),
                again_for=one.again_for,
            ),
            **_kept(1, makers=one.makers, count=one.count),
            **_kept(0, done=one.done, worked_minutes=one.worked),
            **{key: value for key, value in (("split", one.split), ("dusty", one.dusty)) if value is not None},
            **self.happened(one),
        }

    def happened(self, one: network.Operation) -> dict[str, Any]:
        pin = None if one.pinned is None else _kept(at=self.at(one.pinned.at), on=self.at(one.pinned.on))
        return {
            **_kept(
                not_before=self.at(one.not_before),
                pinned=pin,
                started=self.at(one.started),
                finished=self.at(one.finished),
                abandoned=self.at(one.abandoned),
                wait_began=self.at(one.wait_began),
                reached={stage: self.at(at) for stage, at in one.reached.items()},
            ),
            "paused": one.paused,
        }


def _after(after: network.After) -> dict[str, Any]:
    kept: Mapping[str, Any] = _kept(stage=after.stage, within_minutes=after.within)
    return {"operation": after.operation, **kept, "lag_minutes": after.lag}


def _as_is(value: float | None) -> float | None:
    return value


def _scaled(factor: float, offset: float) -> Callable[[float | None], float | None]:
    return lambda value: None if value is None else round(value * factor + offset, _PLACES)
