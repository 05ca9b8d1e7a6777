"""The sensors of a shop: their tokens are made, shown once, and revoked."""

import re

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.shops.models import Reading, Room, Sensor, Shop

TOKEN = re.compile(r"<p><code>(\d+-[\w-]{43})</code>")


def sensors(db: Session) -> list[Sensor]:
    factories.anew(db)
    return list(db.scalars(select(Sensor).order_by(Sensor.id)))


def make(owner: FlaskClient, name: str = "By the door", **typed: str) -> str:
    """Add a sensor and return its token, as the page shows it."""
    answer = owner.post("/shop/sensors", data={"name": name, "room_id": "", **typed})
    assert (answer.status_code, answer.location) == (303, "/shop/sensors")
    found = TOKEN.search(owner.get("/shop/sensors").text)
    assert found is not None
    return found[1]


def send(client: FlaskClient, token: str) -> int:
    found = {"temperature": 14.5, "unit": "C", "humidity": 58}
    return client.post("/api/readings", json=found, headers={"Authorization": f"Bearer {token}"}).status_code


def test_a_token_is_shown_once_and_only_its_hash_is_kept(owner: FlaskClient, nobody: FlaskClient, db: Session) -> None:
    assert "No sensor yet." in owner.get("/shop/sensors").text
    token = make(owner)
    page = owner.get("/shop/sensors").text
    assert token not in page
    assert "not heard yet" in page
    row = sensors(db)[0]
    assert token.partition("-")[2] not in repr(vars(row))
    assert len(row.token_hash) == 64
    assert send(nobody, token) == 201


def test_the_list_says_when_it_was_heard_and_readings_who_read(owner: FlaskClient, db: Session, clock: Clock) -> None:
    token = make(owner)
    send(owner, token)
    clock.forward(minutes=3)
    assert "last heard 3 min ago" in owner.get("/shop/sensors").text
    assert "by <bdi>By the door</bdi>" in owner.get("/shop/readings").text


def test_revoked_it_is_heard_no_more_and_its_readings_stay(
    owner: FlaskClient, nobody: FlaskClient, db: Session
) -> None:
    token = make(owner)
    send(nobody, token)
    answer = owner.post(f"/shop/sensors/{sensors(db)[0].id}/delete")
    assert answer.status_code == 303
    assert sensors(db) == []
    assert send(nobody, token) == 401
    row = db.scalars(select(Reading)).one()
    assert (row.temperature, row.sensor_id) == (14.5, None)


def test_only_an_owner_of_the_shop_sees_them(
    owner: FlaskClient, helper: FlaskClient, stranger: FlaskClient, db: Session
) -> None:
    make(owner)
    key = sensors(db)[0].id
    assert helper.get("/shop/sensors").status_code == 403
    assert helper.post("/shop/sensors", data={"name": "Mine"}).status_code == 403
    assert helper.post(f"/shop/sensors/{key}/delete").status_code == 403
    assert "Sensors" not in helper.get("/shop/readings").text
    assert stranger.post(f"/shop/sensors/{key}/delete").status_code == 404
    assert "By the door" not in stranger.get("/shop/sensors").text
    assert len(sensors(db)) == 1


def test_what_is_wrong_comes_back(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    make(owner)
    twice = owner.post("/shop/sensors", data={"name": "By the door"})
    assert (twice.status_code, "There is a sensor of that name already." in twice.text) == (422, True)
    assert 'value="By the door"' in twice.text
    assert "A name, please." in owner.post("/shop/sensors", data={"name": " "}).text
    elsewhere = stranger.post("/shop/sensors", data={"name": "X", "room_id": str(shop.rooms[0].id)})
    assert elsewhere.status_code == 422
    assert len(sensors(db)) == 1


def test_sent_twice_is_once_and_the_token_is_shown_all_the_same(owner: FlaskClient, db: Session) -> None:
    """SA15: the second tap of a double tap shows the token of the first."""
    for _ in range(2):
        owner.post("/shop/sensors", data={"name": "By the door", "once": "k"})
    assert len(sensors(db)) == 1
    assert TOKEN.search(owner.get("/shop/sensors").text)


def test_a_room_in_which_a_sensor_stands_is_not_given_up(owner: FlaskClient, db: Session, shop: Shop) -> None:
    loft = Room(shop_id=shop.id, name="Loft")
    db.add(loft)
    db.commit()
    make(owner, room_id=str(loft.id))
    assert owner.post(f"/shop/rooms/{loft.id}/delete").status_code == 409
    owner.post(f"/shop/sensors/{sensors(db)[0].id}/delete")
    assert owner.post(f"/shop/rooms/{loft.id}/delete").status_code == 303
