"""From the rows of a shop to the shop as the planner sees it."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session, object_session

from webapp.db.held import held
from webapp.db.kept import Kept
from webapp.planning import network
from webapp.planning.hours import Hours
from webapp.planning.instants import cut
from webapp.shops.models import Closed, Extra, Opening, Reading, Room, Shop

Week = dict[int | None, list[tuple[int, int, int]]]
Read = tuple[date, Week, tuple[network.Closed, ...], tuple[network.Extra, ...]]

AROUND = timedelta(days=2)  # a day of a moment, in any zone, and the one before it
_hours_kept: Kept[Read] = Kept()


def planning_shop(shop: Shop, *, since: date | None = None, readings_from: datetime | None = None) -> network.Shop:
    """Return the shop for `planning`; makers who have left are not in it.

    All days shut and extra hours are taken along, or those from a day on; all readings, or those from a moment on: none
    holds for longer than twelve hours.
    """
    week = _week(shop)
    makers = (network.Maker(row.name, _hours(week.get(row.id, ())) or None) for row in shop.makers if not row.left_on)
    return network.Shop(
        time_zone=shop.time_zone,
        hours=_hours(week.get(None, ())),
        closed=_closed(shop, since),
        extra=_extra(shop, since),
        makers=tuple(makers) or (network.Maker("nobody"),),
        least_minutes=shop.least_minutes,
        equipment=tuple(network.Equipment(row.name, row.count) for row in shop.equipment),
        rooms=_rooms(shop),
        climate=_climate(shop, readings_from),
    )


def aired_shop(shop: Shop, readings_from: datetime) -> network.Shop:
    """Return a shop that has its air only: rooms, usual climate, and the readings from a moment on."""
    return network.Shop(shop.time_zone, (), rooms=_rooms(shop), climate=_climate(shop, readings_from))


def open_hours(shop: Shop, since: datetime, maker_id: int | None = None) -> Hours:
    """Return the hours of a shop, or of a maker who has some of his own, for pages that ask nothing else."""
    return Hours(shop_hours(shop, since, maker_id))


def shop_hours(shop: Shop, since: datetime, maker_id: int | None = None) -> network.Shop:
    """Return a shop that has its hours only, with the days shut and extra hours that matter from a moment on.

    What was read once for an earlier moment does for a later one too.
    """
    first, known = since.date() - AROUND, held(_db(shop))
    read = known.get(("hours", shop.id))
    if read is None or first < read[0]:
        # rows alone make them, no moment: the same midnight each time
        midnight = datetime.combine(first, time(), UTC)
        read = _hours_kept.of(_db(shop), (shop.id, first), midnight, lambda: _read_hours(shop, first))
        known["hours", shop.id] = read
    _, week, closed, extra = read
    own = week.get(maker_id) or week.get(None) or ()
    return network.Shop(time_zone=shop.time_zone, hours=_hours(own), closed=closed, extra=extra)


def _read_hours(shop: Shop, first: date) -> Read:
    return first, _week(shop), _closed(shop, first), _extra(shop, first)


def _closed(shop: Shop, since: date | None) -> tuple[network.Closed, ...]:
    wanted = select(Closed.first_on, Closed.last_on, Closed.note).where(Closed.shop_id == shop.id)
    wanted = wanted if since is None else wanted.where(Closed.last_on >= since)
    return tuple(network.Closed(*row) for row in _db(shop).execute(wanted.order_by(Closed.first_on, Closed.id)))


def _extra(shop: Shop, since: date | None) -> tuple[network.Extra, ...]:
    wanted = select(Extra.on_day, Extra.opens, Extra.closes).where(Extra.shop_id == shop.id)
    wanted = wanted if since is None else wanted.where(Extra.on_day >= since)
    return tuple(network.Extra(*row) for row in _db(shop).execute(wanted.order_by(Extra.on_day, Extra.opens)))


def _db(shop: Shop) -> Session:
    found = object_session(shop)
    assert found is not None
    return found


def _week(shop: Shop) -> Week:
    """Return (weekday, opens, closes) of those makers who have hours of their own, by id, and of the shop, by None."""
    columns = (Opening.maker_id, Opening.weekday, Opening.opens, Opening.closes)
    found: Week = {}
    wanted = select(*columns).where(Opening.shop_id == shop.id).order_by(Opening.weekday, Opening.opens)
    for maker_id, *hours in _db(shop).execute(wanted):
        found.setdefault(maker_id, []).append((hours[0], hours[1], hours[2]))
    return found


def _hours(rows: Iterable[tuple[int, int, int]]) -> tuple[network.Opening, ...]:
    """Rows of one weekday each, put together where several days have the same hours."""
    days: dict[tuple[int, int], list[int]] = {}
    for weekday, opens, closes in rows:
        days.setdefault((opens, closes), []).append(weekday)
    return tuple(network.Opening(tuple(sorted(found)), *hours) for hours, found in days.items())


def _climate(shop: Shop, since: datetime | None) -> network.Climate:
    usual = shop.climate_day, shop.climate_night, shop.day_from, shop.day_to, shop.humidity
    return network.Climate(*usual, _readings(shop, since))


def _rooms(shop: Shop) -> tuple[network.Room, ...]:
    return tuple(_room(row) for row in shop.rooms)


def _room(row: Room) -> network.Room:
    climate = network.Climate(row.climate_day, row.climate_night, humidity=row.humidity)
    own = None if climate == network.Climate() else climate
    return network.Room(row.name, row.drying_places, row.settle_minutes, own)


def _readings(shop: Shop, since: datetime | None) -> tuple[network.Reading, ...]:
    columns = (Reading.at, Reading.temperature, Reading.humidity, Reading.room_id, Reading.counts)
    wanted = select(*columns).where(Reading.shop_id == shop.id).order_by(Reading.at, Reading.id)
    if since is not None:
        wanted = wanted.where(Reading.at >= since)
    rooms = {row.id: row.name for row in shop.rooms}
    return tuple(
        network.Reading(cut(at), temperature, humidity, rooms.get(room_id or 0), counts)
        for at, temperature, humidity, room_id, counts in _db(shop).execute(wanted)
    )
