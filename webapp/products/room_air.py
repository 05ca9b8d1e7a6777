"""The air of a room of the shop as a product meets it: what was read, else what is usual; or what somebody types."""

from bisect import bisect_right
from dataclasses import dataclass
from datetime import datetime

from webapp.planning.airs import Airs
from webapp.planning.instants import cut, moment
from webapp.products.now_form import NowForm
from webapp.shops.actions import READING_HOLDS
from webapp.shops.document import aired_shop
from webapp.shops.models import Shop
from webapp.trade.air.climate import History
from webapp.web.filters import temperature, when


@dataclass(frozen=True)
class RoomAir:
    """The air of a room over time, the room, and where it is known from."""

    history: History
    room: str
    source: str
    after: str = ""
    is_typed: bool = False


def room_air(shop: Shop, form: NowForm, now: datetime) -> RoomAir:
    """Return the air of the room that is asked for. A form that is wrong shows the room as it is."""
    rooms = {str(one.id): one.name for one in shop.rooms}
    room = rooms.get(str(form.room.data)) or next(iter(rooms.values()), "the shop")
    history = Airs(aired_shop(shop, now - READING_HOLDS)).of(room)
    typed, humidity = form.temperature.data, form.humidity.data
    if form.errors or (typed is None and humidity is None):
        return _as_it_is(history, room, cut(now))
    air = history.at(cut(now))
    constant = History.constant(
        air.temperature if typed is None else typed, air.humidity if humidity is None else humidity
    )
    return RoomAir(constant, room, "as you typed it, all the time", is_typed=True)


def _as_it_is(history: History, room: str, now: int) -> RoomAir:
    track = history.temperatures
    index = bisect_right(track.begins, now) - 1
    if index < 0 or now >= track.ends[index]:
        return RoomAir(history, room, "usual for this hour, nothing read in the last 12 h", _usual(history, now))
    return RoomAir(history, room, f"read {when(moment(track.begins[index]))}", _usual(history, track.ends[index]))


def _usual(history: History, since: int) -> str:
    day, night = history.profile.day, history.profile.night
    if day is None or night is None:
        return ""
    usual = temperature(day) if day == night else f"{temperature(day)} by day and {temperature(night)} by night"
    return f"Longer waits count with the usual {usual}, from {when(moment(since))} on, until somebody reads it again."
