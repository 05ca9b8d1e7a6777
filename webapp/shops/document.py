"""From the rows of a shop to the shop as the planner sees it."""

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import object_session

from webapp.planning import network
from webapp.planning.hours import Hours
from webapp.planning.instants import cut
from webapp.shops.models import Maker, Opening, Reading, Room, Shop


def planning_shop(shop: Shop, *, readings_from: datetime | None = None) -> network.Shop:
    """Return the shop for `planning`; makers who have left are not in it.

    All readings are taken along, or those from a moment on: none holds for longer than twelve hours.
    """
    return network.Shop(
        time_zone=shop.time_zone,
        hours=_hours(shop.openings),
        closed=tuple(network.Closed(row.first_on, row.last_on, row.note) for row in shop.closed),
        extra=tuple(network.Extra(row.on_day, row.opens, row.closes) for row in shop.extra),
        makers=tuple(_maker(row) for row in shop.makers if row.left_on is None) or (network.Maker("nobody"),),
        least_minutes=shop.least_minutes,
        equipment=tuple(network.Equipment(row.name, row.count) for row in shop.equipment),
        rooms=tuple(_room(row) for row in shop.rooms),
        climate=network.Climate(
            shop.climate_day,
            shop.climate_night,
            shop.day_from,
            shop.day_to,
            shop.humidity,
            _readings(shop, readings_from),
        ),
    )


def open_hours(shop: Shop, maker: Maker | None = None) -> Hours:
    """Return the hours of a shop, or of a maker who has some of his own, for pages that ask nothing else."""
    own = maker.openings if maker is not None else []
    return Hours(
        network.Shop(
            time_zone=shop.time_zone,
            hours=_hours(own or shop.openings),
            closed=tuple(network.Closed(row.first_on, row.last_on) for row in shop.closed),
            extra=tuple(network.Extra(row.on_day, row.opens, row.closes) for row in shop.extra),
        )
    )


def _hours(rows: Iterable[Opening]) -> tuple[network.Opening, ...]:
    """Rows of one weekday each, put together where several days have the same hours."""
    days: dict[tuple[int, int], list[int]] = {}
    for row in rows:
        days.setdefault((row.opens, row.closes), []).append(row.weekday)
    return tuple(network.Opening(tuple(sorted(found)), *hours) for hours, found in days.items())


def _maker(row: Maker) -> network.Maker:
    return network.Maker(row.name, _hours(row.openings) or None)


def _room(row: Room) -> network.Room:
    climate = network.Climate(row.climate_day, row.climate_night, humidity=row.humidity)
    own = None if climate == network.Climate() else climate
    return network.Room(row.name, row.drying_places, row.settle_minutes, own)


def _readings(shop: Shop, since: datetime | None) -> tuple[network.Reading, ...]:
    db = object_session(shop)
    assert db is not None
    wanted = select(Reading).where(Reading.shop_id == shop.id).order_by(Reading.at, Reading.id)
    if since is not None:
        wanted = wanted.where(Reading.at >= since)
    rooms = {row.id: row.name for row in shop.rooms}
    return tuple(
        network.Reading(cut(row.at), row.temperature, row.humidity, rooms.get(row.room_id or 0), row.counts)
        for row in db.scalars(wanted)
    )
