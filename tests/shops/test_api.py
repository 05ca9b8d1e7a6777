"""POST /api/readings: what a sensor sends, and what of it is kept."""

from datetime import timedelta
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from tests.conftest import START, Clock
from webapp.db.mark import mark_of
from webapp.shops.actions import reading_now
from webapp.shops.models import Reading, Room, Sensor, Shop
from webapp.shops.sensors import give_token

MORNING = "2026-02-02T07:30:00+01:00"


@pytest.fixture
def sensor(db: Session, shop: Shop) -> Sensor:
    found = Sensor(shop_id=shop.id, name="By the door", token_hash="", made_at=START)
    db.add(found)
    db.flush()
    return found


@pytest.fixture
def token(db: Session, sensor: Sensor) -> str:
    found = give_token(sensor)
    db.commit()
    return found


@pytest.fixture
def send(app: Flask, token: str) -> Any:
    """Send a reading of 58 % and so many °C, with other fields."""
    client = app.test_client()

    def send(celsius: float = 14.5, *, by: str = token, **more: Any) -> TestResponse:
        found = {"temperature": celsius, "unit": "C", "humidity": 58, **more}
        return client.post("/api/readings", json=found, headers={"Authorization": f"Bearer {by}"})

    return send


def count(db: Session) -> int:
    factories.anew(db)
    return db.scalar(select(func.count(Reading.id))) or 0


def test_a_reading_is_stored_and_told(send: Any, db: Session, sensor: Sensor, shop: Shop) -> None:
    answer = send(room="shop", at=MORNING)
    assert answer.status_code == 201
    assert answer.json == {
        "at": "2026-02-02T01:30:00-05:00", "temperature": 14.5, "unit": "C", "humidity": 58.0, "room": "Shop",
        "says": "Stored.",
    }  # fmt: skip
    assert "Set-Cookie" not in answer.headers
    factories.anew(db)
    row = db.scalars(select(Reading)).one()
    assert (row.temperature, row.humidity, row.unit, row.counts) == (14.5, 58.0, "C", None)
    assert (row.sensor_id, row.room_id, row.at.isoformat()) == (
        sensor.id,
        shop.rooms[0].id,
        "2026-02-02T06:30:00+00:00",
    )
    assert db.get_one(Sensor, sensor.id).heard_at == START


def test_fahrenheit_is_told_as_it_came(send: Any) -> None:
    assert send(58.1, unit="F").json["temperature"] == 58.1


def test_the_same_reading_sent_twice_is_stored_once(send: Any, db: Session) -> None:
    """SA15: the answer was lost, and the sensor sends again."""
    assert [send(at=MORNING).status_code for _ in range(2)] == [201, 200]
    again = send(20.0, at=MORNING)  # one sensor read one thing at one moment
    assert (again.status_code, again.json["temperature"]) == (200, 14.5)
    assert "Stored before" in again.json["says"]
    assert count(db) == 1


def test_what_says_nothing_new_is_not_kept(send: Any, db: Session, clock: Clock) -> None:
    """Every minute for two hours: half a degree more is no news, and after half an hour anything is."""
    clock.moment = START
    statuses = []
    for minute in range(120):
        statuses.append(send(14.5 + 0.5 * (minute % 2)).status_code)
        clock.forward(minutes=1)
    assert [minute for minute, status in enumerate(statuses) if status == 201] == [0, 30, 60, 90]
    assert count(db) == 4
    answer = send(14.5)
    assert (answer.status_code, count(db)) == (201, 5)


@pytest.mark.parametrize(
    ("minutes", "celsius", "more", "status"),
    [
        (2, 15.0, {}, 200),
        (2, 15.1, {}, 201),
        (2, 13.9, {}, 201),
        (2, 14.5, {"humidity": 60}, 200),
        (2, 14.5, {"humidity": 60.1}, 201),
        (0.9, 30.0, {}, 200),  # two within one minute are one
        (29.9, 14.5, {}, 200),
        (30, 14.5, {}, 201),
        (-0.5, 14.5, {}, 200),  # came late
        (-2, 14.5, {}, 201),
        (2, 14.5, {"room": "Loft"}, 201),  # a box that speaks for several rooms
    ],
)
def test_a_difference_is_kept_at_once(
    send: Any, db: Session, shop: Shop, minutes: float, celsius: float, more: dict[str, Any], status: int
) -> None:
    db.add(Room(shop_id=shop.id, name="Loft"))
    db.commit()
    first = START - timedelta(hours=5)
    assert send(at=first.isoformat()).status_code == 201
    answer = send(celsius, at=(first + timedelta(minutes=minutes)).isoformat(), **more)
    assert answer.status_code == status
    assert answer.json["says"].startswith("Stored." if status == 201 else "Not stored: within 30 min")


def test_what_is_not_kept_leaves_kept_plans_alone(send: Any, db: Session, clock: Clock) -> None:
    """Each write makes plans anew. When it was heard is noted, but every five minutes only."""
    send()
    marks = set()
    for _ in range(4):
        clock.forward(minutes=1)
        assert send().status_code == 200
        db.rollback()
        marks.add(mark_of(db))
    assert len(marks) == 1
    clock.forward(minutes=1)
    send()
    factories.anew(db)
    assert db.scalars(select(Sensor)).one().heard_at == clock.moment
    assert mark_of(db) not in marks


def test_what_is_wrong_is_said_with_its_field(send: Any, db: Session) -> None:
    answer = send(85)
    assert answer.status_code == 422
    assert answer.json == {"error": "Not stored", "field": "temperature", "says": "From -40 to 50 °C, please."}
    assert send(sensor="x").status_code == 422
    assert count(db) == 0


@pytest.mark.parametrize(
    ("kind", "body", "status"),
    [
        ("application/json", b"{", 400),
        ("application/x-www-form-urlencoded", b'{"humidity": 58}', 415),
        ("", b'{"humidity": 58}', 415),
        ("application/json", b" " * 5000, 413),
    ],
)
def test_what_is_no_json_is_answered_in_json(
    nobody: FlaskClient, token: str, db: Session, kind: str, body: bytes, status: int
) -> None:
    headers = {"Authorization": f"Bearer {token}", **({"Content-Type": kind} if kind else {})}
    answer = nobody.post("/api/readings", data=body, headers=headers)
    assert answer.status_code == status
    assert answer.json is not None
    assert answer.json["says"].endswith(".")
    assert count(db) == 0


@pytest.mark.parametrize("authorization", ["", "Bearer", "Bearer ", "Basic dDp0", "Token {}", "{}"])
def test_without_a_token_there_is_no_entry(owner: FlaskClient, token: str, db: Session, authorization: str) -> None:
    """A cookie counts for nothing here, an owner's neither."""
    headers = {"Authorization": authorization.format(token)} if authorization else {}
    answer = owner.post("/api/readings", json={"humidity": 58}, headers=headers)
    assert (answer.status_code, answer.headers["WWW-Authenticate"]) == (401, "Bearer")
    assert answer.json is not None
    assert "Authorization: Bearer" in answer.json["says"]
    assert count(db) == 0


def test_guessing_is_braked(send: Any, token: str, owner: FlaskClient, clock: Clock) -> None:
    """Eight wrong ones in ten minutes; after that the right one has to wait as well, and nobody's sign-in does."""
    wrong = f"{token[:-1]}{'a' if token[-1] != 'a' else 'b'}"
    assert [send(by=wrong).status_code for _ in range(9)] == [401] * 8 + [429]
    assert send().status_code == 429
    sign_in = owner.application.test_client().post("/sign-in", data={"name": "Ada", "password": "wrong"})
    assert sign_in.status_code == 422
    clock.forward(minutes=11)
    assert send().status_code == 201


@pytest.mark.parametrize("wrong", ["nonsense", "é", "0-x", "99999999999-x", "2147483648-x", "１-x", "-", "1" * 3000])
def test_wrong_tokens_are_counted_together_where_no_sensor_is_meant(send: Any, wrong: str) -> None:
    statuses = [send(by=f"{wrong}{number}".encode().decode("latin-1")).status_code for number in range(9)]
    assert statuses == [401] * 8 + [429]
    assert send().status_code == 201  # a sensor beside it goes on


def test_the_page_shows_what_the_sensor_read(send: Any, owner: FlaskClient, db: Session, shop: Shop) -> None:
    send()
    assert "58.1 °F, 58 %" in owner.get("/").text
    factories.anew(db)
    found = reading_now(db, shop.id, START)
    assert found is not None
    assert found.temperature == 14.5


def test_it_is_asked_for_by_post_only(nobody: FlaskClient) -> None:
    answer = nobody.get("/api/readings")
    assert answer.status_code == 405
    assert answer.json is not None
