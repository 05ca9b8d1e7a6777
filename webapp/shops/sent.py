"""What a sensor sends, read strictly: what could be meant otherwise is refused, with its field and a sentence."""

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from webapp.shops.models import Room
from webapp.shops.warmth import is_wrong, range_in
from webapp.trade.air.dew import to_celsius
from webapp.web.clock import AHEAD

FIELDS = ("temperature", "unit", "humidity", "room", "at")
BEHIND = timedelta(days=7)  # what may be sent late, once the network is there again


class SentError(ValueError):
    """What was sent cannot be taken; the text says why, `field` where, `status` how it is answered."""

    def __init__(self, field: str | None, says: str, status: int = 422) -> None:
        super().__init__(says)
        self.field, self.status = field, status


@dataclass(frozen=True)
class Sent:
    """One reading as it came: °C, % RH, and the unit in which the sensor measures."""

    at: datetime
    celsius: float | None
    unit: str
    humidity: float | None
    room_id: int | None


def read(body: bytes | SentError) -> dict[str, Any]:
    """Return the object that stands in a body; raise SentError where there is none, or what was found wrong before."""
    if isinstance(body, SentError):
        raise body
    try:
        found = json.loads(body.decode("utf-8"), object_pairs_hook=_once_each, parse_constant=_refuse_constant)
    except SentError:
        raise
    except (ValueError, RecursionError):
        raise SentError(None, "The body is not JSON in UTF-8.", 400) from None
    if not isinstance(found, dict):
        raise SentError(None, 'Send one JSON object, such as {"temperature": 14.5, "unit": "C"}.', 400)
    return found


def _once_each(pairs: Iterable[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise SentError(name if name in FIELDS else None, "A field stands there twice.")
        found[name] = value
    return found


def _refuse_constant(name: str) -> None:
    raise SentError(None, f"{name} is no number.")


def sent_of(found: Mapping[str, Any], rooms: Iterable[Room], own_room: int | None, now: datetime) -> Sent:
    """Return the reading that an object of a sensor tells; raise SentError for the first field that cannot be taken.

    `rooms` are those of the shop, `own_room` the id of the one that the sensor stands in.
    """
    unknown = next((name for name in found if name not in FIELDS), None)
    if unknown is not None:
        raise SentError(None, f"Only these fields are known: {', '.join(FIELDS)}.")
    celsius, unit = _temperature(found)
    humidity = _humidity(found)
    if celsius is None and humidity is None:
        raise SentError("temperature", "Send the temperature, the humidity or both.")
    return Sent(_at(found, now), celsius, unit, humidity, _room(found, rooms, own_room))


def _number(found: Mapping[str, Any], name: str) -> float | None:
    if name not in found:
        return None
    value = found[name]
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise SentError(name, "A number without quotes, please. Leave the field out where nothing was measured.")
    # beyond a thousand nothing is measured here, and an integer may be too long to be a float
    if abs(value) > 1000 or not math.isfinite(value):
        raise SentError(name, "That cannot be right.")
    return round(float(value), 1) + 0.0  # no minus before a nought


def _temperature(found: Mapping[str, Any]) -> tuple[float | None, str]:
    value, unit = _number(found, "temperature"), found.get("unit")
    if value is None and "unit" not in found:
        return None, "C"
    if unit not in ("C", "F"):
        raise SentError("unit", 'Say in which unit: "C" or "F".')
    if value is None:
        return None, unit
    celsius = value if unit == "C" else round(to_celsius(value), 4)
    if is_wrong(celsius):
        raise SentError("temperature", range_in(unit))
    return celsius, unit


def _humidity(found: Mapping[str, Any]) -> float | None:
    value = _number(found, "humidity")
    if value is not None and not 0 <= value <= 100:
        raise SentError("humidity", "From 0 to 100 %, please.")
    return value


def _at(found: Mapping[str, Any], now: datetime) -> datetime:
    if "at" not in found:
        return now.replace(microsecond=0)
    try:
        at = datetime.fromisoformat(found["at"])
    except (TypeError, ValueError):
        at = None
    if at is None or at.tzinfo is None:
        raise SentError("at", "A day and time with its offset, please, such as 2026-02-02T07:30:00+01:00.")
    if abs(at.replace(tzinfo=UTC) - now) > BEHIND + timedelta(days=2):  # before an offset leads out of all years
        raise SentError("at", "More than a week from now. Set the clock of the sensor, or leave the field out.")
    at = at.astimezone(UTC).replace(microsecond=0)
    if at > now + AHEAD:
        raise SentError("at", "That is still to come. Set the clock of the sensor, or leave the field out.")
    if at < now - BEHIND:
        raise SentError("at", "That is more than a week ago. Set the clock of the sensor, or leave the field out.")
    return at


def _room(found: Mapping[str, Any], rooms: Iterable[Room], own: int | None) -> int | None:
    if "room" not in found:
        return own
    name = str(found["room"])
    alike = sorted((one for one in rooms if one.name.casefold() == name.casefold()), key=lambda one: one.name != name)
    room = alike[0] if alike else None
    if room is None:
        raise SentError("room", "No room of the shop is called that. Leave the field out, or see under Shop, Rooms.")
    if own not in (None, room.id):
        raise SentError("room", "This sensor stands in another room. Leave the field out.")
    return room.id
