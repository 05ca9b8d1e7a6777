"""Whatever comes with a good token of a sensor: taken or refused in one sentence, never a broken answer."""

import json
from collections.abc import Iterator
from random import Random
from typing import Any

from flask import Flask
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.hostile.rows import wrong_rows
from tests.hostile.values import BY_KIND, bodies
from webapp.shops.models import Reading, Sensor, Shop
from webapp.shops.sensors import give_token

RIGHT = {"temperature": 14.5, "unit": "C", "humidity": 58, "room": "Shop", "at": START.isoformat()}
KINDS = ("number", "moment", "day", "edge", "choice", "nested", "characters", "direction", "invisible", "script")
RAW = [
    b"NaN",
    b"-Infinity",
    b"1e400",
    b"-1e400",
    b"1" * 4000,
    b"0.1e-400",
    b"null",
    b"true",
    b"[[]]",
    b'{"C": 1}',
    b"-0",
]


def sent(random: Random) -> Iterator[bytes]:
    """Yield bodies: each field with odd texts, and with odd values of JSON; names of nonsense; no JSON."""
    for field in RIGHT:
        for kind in KINDS:
            yield json.dumps({**RIGHT, field: random.choice(BY_KIND[kind]).text}).encode("utf-8", "surrogatepass")
        for raw in RAW:
            yield json.dumps({**RIGHT, field: "PLACE"}).encode().replace(b'"PLACE"', raw)
    for kind in KINDS:
        yield json.dumps({**RIGHT, random.choice(BY_KIND[kind]).text: 1}).encode()
    yield from (body for _, body, _ in bodies(20))


def test_odd_bodies_get_a_sentence(app: Flask, db: Session, shop: Shop) -> None:
    sensor = Sensor(shop_id=shop.id, name="By the door", token_hash="", made_at=START)
    db.add(sensor)
    db.flush()
    headers = {"Authorization": f"Bearer {give_token(sensor)}", "Content-Type": "application/json"}
    db.commit()
    client, statuses = app.test_client(), set[int]()
    for body in sent(Random("sensor")):
        before = _count(db)
        answer = client.post("/api/readings", data=body, headers=headers)
        found: Any = answer.json
        statuses.add(answer.status_code)
        assert answer.status_code in (200, 201, 400, 413, 422), (body[:200], answer.status_code)
        assert isinstance(found["says"], str), body[:200]
        assert (_count(db) > before) == (answer.status_code == 201), body[:200]
    assert {201, 400, 422} <= statuses
    assert wrong_rows(app, START) == []


def _count(db: Session) -> int:
    factories.anew(db)
    return db.scalar(select(func.count(Reading.id))) or 0
