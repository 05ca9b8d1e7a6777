"""Sensors: who sends, known by a token of which only the hash is stored, and which of all they send is kept."""

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from hmac import compare_digest

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.people import brake
from webapp.people.actions import hashed
from webapp.shops.models import Reading, Sensor
from webapp.shops.sent import Sent
from webapp.web.guard import key_of

# within half an hour of the last one, what differs by no more than this says nothing new
STILL = timedelta(minutes=30)
DEGREES, PERCENT = 0.5, 2.0
LOOSE = 0.001  # °C: readings typed in °F are rounded
LEAST = timedelta(minutes=1)  # two within one minute are never kept: the plan goes by minutes
HEARD_AGAIN = timedelta(minutes=5)  # each write lets go of what is kept for pages


@dataclass(frozen=True)
class Kept:
    """The reading that stands for what was sent: stored just now, before (the same), or another one; does it write?"""

    reading: Reading
    is_new: bool
    is_same: bool
    writes: bool


def give_token(sensor: Sensor) -> str:
    """Give a stored sensor a token, and return it: nobody is told a second time."""
    token = f"{sensor.id}-{secrets.token_urlsafe(32)}"
    sensor.token_hash = hashed(token)
    return token


def sensor_of(db: Session, token: str, now: datetime) -> tuple[Sensor | None, str]:
    """Return the sensor that holds a token, or nothing, and what wrong tries are counted under.

    Raises BrakedError after too many wrong ones.
    """
    key = key_of(token.partition("-")[0])
    found = db.get(Sensor, key) if key is not None else None
    name = str(found.id) if found else "of nobody"
    brake.check_token(db, name, now)
    is_right = compare_digest(found.token_hash if found else "", hashed(token))
    return found if is_right else None, name


def keep(db: Session, sensor: Sensor, sent: Sent, now: datetime) -> Kept:
    """Store what a sensor sent, unless it says nothing new. Its row is locked: one comes after the other."""
    last = _last(db, sensor, sent)
    is_new = last is None or _says_more(sent, last)
    writes = is_new or sensor.heard_at is None or sensor.heard_at <= now - HEARD_AGAIN
    if writes:
        sensor.heard_at = now
    if last is not None and not is_new:
        return Kept(last, is_new=False, is_same=last.at == sent.at, writes=writes)
    found = Reading(
        shop_id=sensor.shop_id, sensor_id=sensor.id, room_id=sent.room_id, at=sent.at, unit=sent.unit,
        temperature=sent.celsius, humidity=sent.humidity, counts=None,
    )  # fmt: skip
    db.add(found)
    return Kept(found, is_new=True, is_same=False, writes=True)


def _last(db: Session, sensor: Sensor, sent: Sent) -> Reading | None:
    """Return the last one kept that may stand for this one too; one that came in late is held against its own time."""
    near = Reading.at > sent.at - STILL, Reading.at < sent.at + LEAST
    here = Reading.room_id.is_(None) if sent.room_id is None else Reading.room_id == sent.room_id
    wanted = select(Reading).where(Reading.sensor_id == sensor.id, *near, here)
    return db.scalar(wanted.order_by(Reading.at.desc(), Reading.id.desc()).limit(1))


def _says_more(sent: Sent, last: Reading) -> bool:
    if abs(sent.at - last.at) < LEAST:
        return False
    return _differs(sent.celsius, last.temperature, DEGREES) or _differs(sent.humidity, last.humidity, PERCENT)


def _differs(new: float | None, old: float | None, least: float) -> bool:
    if new is None or old is None:
        return new is not old
    return abs(new - old) > least + LOOSE
