"""The sensor of each of the two shops, and its token."""

from datetime import datetime

from webapp.people.actions import hashed
from webapp.shops.models import Sensor


def sensor(shop_id: int, name: str, now: datetime) -> Sensor:
    return Sensor(shop_id=shop_id, name=name, token_hash="", made_at=now)


def sensor_token(sensor_id: int) -> str:
    return f"{sensor_id}-a thermometer's"


def with_token(stored: Sensor) -> Sensor:
    stored.token_hash = hashed(sensor_token(stored.id))
    return stored
