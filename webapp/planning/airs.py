"""The air of each room of a shop, laid once for all that is asked of it."""

from typing import TypeVar

from webapp.planning import iso
from webapp.planning.network import Climate, Shop
from webapp.trade.air.climate import History, Profile

N = TypeVar("N", int, float)


class Airs:
    """The air of a shop's rooms.

    Takes:   the shop, its zone one that exists.
    Returns: histories that are made as they are asked for, and kept.
    Raises:  IsoError for a zone that does not exist.
    Source:  the shop document, `climate` and rule 3, "Readings".

    >>> airs = Airs(Shop("UTC", (), climate=Climate(20.0, 15.0, 420, 1320)))
    >>> airs.of(None).at(0).temperature, airs.of("loft") is airs.of("loft")
    (15.0, True)
    """

    def __init__(self, shop: Shop) -> None:
        self._shop, self._zone = shop, iso.zone(shop.time_zone)
        self._own = {room.name: room.climate for room in shop.rooms if room.climate is not None}
        self._read = {reading.room for reading in shop.climate.readings}
        self._laid: dict[str | None, History] = {}

    def of(self, room: str | None) -> History:
        """The air of a room by name; of work without one, the shop's."""
        room = room if room in self._own or room in self._read else None
        found = self._laid.get(room)
        if found is None:
            profile = _profile(self._shop.climate, self._own.get(room or "", Climate()))
            found = self._laid[room] = History(profile, self._shop.climate.readings, self._zone, room)
        return found


def _profile(shop: Climate, own: Climate) -> Profile:
    """A room's own climate, with the shop's for what it lacks."""
    usual = Profile()
    return Profile(
        day=_first(own.day, shop.day),
        night=_first(own.night, shop.night),
        day_from=_first(own.day_from, shop.day_from, usual.day_from) or 0,
        day_to=_first(own.day_to, shop.day_to, usual.day_to) or 0,
        humidity=_first(own.humidity, shop.humidity),
    )


def _first(*values: N | None) -> N | None:
    return next((value for value in values if value is not None), None)
