"""The air of the invented shop as it was read over the last days: by opening, before closing, and on one cold night."""

from datetime import UTC, datetime, time, timedelta, tzinfo
from typing import NamedTuple

from webapp.invented.place import FINISHING_ROOM

FRIDAY = 4
OPENING, CLOSING = time(8, 10), time(16, 40)
LATELY = timedelta(hours=1, minutes=12)  # the newest reading is so old


class AirRead(NamedTuple):
    """One reading; without a room it is the whole shop's."""

    at: datetime
    room: str
    celsius: float
    humidity: float


# days before today, time of day, room, °C, % humidity; the heater of the finishing room was off for a night
READ = (
    (13, CLOSING, "", 19.6, 51),
    (11, OPENING, "", 17.4, 54),
    (9, CLOSING, "", 20.4, 50),
    (8, OPENING, "", 17.8, 53),
    (6, OPENING, "", 16.9, 55),
    (6, CLOSING, "", 20.2, 51),
    (5, OPENING, "", 17.2, 53),
    (3, CLOSING, "", 20.8, 49),
    (2, OPENING, "", 17.6, 52),
    (2, CLOSING, "", 20.4, 49),
    (2, time(22, 15), FINISHING_ROOM, 9.2, 58),
    (1, OPENING, FINISHING_ROOM, 7.8, 61),
    (1, time(10, 20), FINISHING_ROOM, 18.9, 51),
    (1, CLOSING, "", 20.9, 48),
    (0, OPENING, "", 18.1, 50),
)
NOW = 20.6, 47


def readings(zone: tzinfo, now: datetime) -> list[AirRead]:
    """Return what was read until now, the oldest first."""
    today = now.astimezone(zone).date()
    found = []
    for ago, clock, room, celsius, humidity in READ:
        day = today - timedelta(days=ago)
        at = datetime.combine(day, clock, zone).astimezone(UTC)
        if at < now - 2 * LATELY and (room or day.weekday() <= FRIDAY):
            found.append(AirRead(at, room, celsius, humidity))
    return [*found, AirRead(now - LATELY, "", *NOW)]
