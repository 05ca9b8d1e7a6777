"""POST /api/readings: a reading from a sensor. The token is all that counts, and a reading is all that it can write."""

from typing import Any

from flask import Blueprint, Response, jsonify, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import RequestEntityTooLarge

from webapp.db.session import session, sessions
from webapp.people import brake
from webapp.shops.actions import shop_of
from webapp.shops.models import Reading, Room, Sensor, Shop
from webapp.shops.sensors import Kept, keep, sensor_of
from webapp.shops.sent import SentError, read, sent_of
from webapp.shops.warmth import in_unit
from webapp.web import guard
from webapp.web.clock import now

part = Blueprint("api", __name__, url_prefix="/api/readings")
LARGEST = 4096  # bytes
SCHEME = "bearer"
UNNAMED = "Send the token of the sensor as Authorization: Bearer TOKEN. An owner makes one under Shop, Sensors."
UNKNOWN = "No sensor has this token. It may have been revoked; an owner makes another one under Shop, Sensors."
STORED = "Stored."
SAME = "Stored before: one reading for one moment."
NOTHING_NEW = (
    "Not stored: within 30 min of this one, which stands, only what differs by more than {} or 2 % is, "
    "and never two within one minute."
)
STEP = {"C": "0.5 °C", "F": "0.9 °F"}


@part.post("")
@guard.token
def create() -> ResponseReturnValue:
    """Store what a sensor measured."""
    token, body = _token(), _body()  # before the database is held for writing
    if not token:
        return _asked(UNNAMED)
    try:
        with sessions().read() as db:
            sensor, name = sensor_of(db, token, now())
            key = sensor.id if sensor else None
    except brake.BrakedError as error:
        return _refused("Too many tries", str(error), 429)
    found = session().get(Sensor, key, with_for_update=True) if key is not None else None
    if found is None:
        brake.note_wrong_token(session(), name, now())
        session().commit()
        return _asked(UNKNOWN)
    shop = shop_of(session(), found.shop_id)
    try:
        kept = keep(session(), found, sent_of(read(body), shop.rooms, found.room_id, now()), now())
    except SentError as error:
        return _refused("Not stored", str(error), error.status, error.field)
    answer = jsonify(_told(kept, shop))
    if kept.writes:
        session().commit()
    return answer, 201 if kept.is_new else 200


def _token() -> str:
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if scheme.lower() == SCHEME else ""


def _body() -> bytes | SentError:
    """Return what was sent, or why it is not read: whoever has no token is told of that first."""
    if request.mimetype != "application/json":
        return SentError(None, "Send JSON, with Content-Type: application/json.", 415)
    request.max_content_length = LARGEST
    try:
        return request.get_data(cache=False)
    except RequestEntityTooLarge:
        return SentError(None, f"Send one reading at once, at most {LARGEST} bytes.", 413)


def _asked(says: str) -> ResponseReturnValue:
    answer, status = _refused("No entry", says, 401)
    answer.headers["WWW-Authenticate"] = "Bearer"
    return answer, status


def _refused(error: str, says: str, status: int, field: str | None = None) -> tuple[Response, int]:
    return jsonify({"error": error, "says": says} | ({"field": field} if field else {})), status


def _told(kept: Kept, shop: Shop) -> dict[str, Any]:
    """Return the reading that is stored, in the unit of the sensor and on the clock of the shop."""
    row = kept.reading
    says = STORED if kept.is_new else SAME if kept.is_same else NOTHING_NEW.format(STEP[row.unit])
    return {"at": row.at.astimezone(shop.zone).isoformat(), **_figures(row), **_place(row, shop.rooms), "says": says}


def _figures(row: Reading) -> dict[str, Any]:
    warm = {} if row.temperature is None else {"temperature": in_unit(row.temperature, row.unit), "unit": row.unit}
    return warm if row.humidity is None else warm | {"humidity": row.humidity}


def _place(row: Reading, rooms: list[Room]) -> dict[str, str]:
    name = next((room.name for room in rooms if room.id == row.room_id), None)
    return {} if name is None else {"room": name}
