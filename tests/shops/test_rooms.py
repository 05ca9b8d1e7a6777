"""The rooms of the shop."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from webapp.shops.models import Reading, Room, Shop


def version(client: FlaskClient, key: int) -> str:
    found = re.search(r'name="version" value="(\w+)"', client.get(f"/shop/rooms/{key}").text)
    assert found
    return found[1]


def test_a_finishing_room_of_its_own_climate_is_added_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: sent twice, stored once."""
    typed = {
        "name": "Finishing room",
        "drying_places": "3",
        "settle_minutes": "1 h 30",
        "climate_day": "70",
        "climate_night": "",
        "humidity": "45 %",
        "once": "k",
    }
    for _ in range(2):
        assert owner.post("/shop/rooms", data=typed).status_code == 303
    factories.anew(db)
    found = db.scalars(select(Room).where(Room.name == "Finishing room")).one()
    assert (found.drying_places, found.settle_minutes, found.climate_night, found.humidity) == (3, 90, None, 45)
    assert found.climate_day == pytest.approx(21.111, abs=1e-3)  # (70 - 32) * 5 / 9
    page = owner.get("/shop/rooms").text
    assert "3 places to dry · dust hangs 1 h 30 min · 70 °F by day · 45 %" in " ".join(page.split())


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"name": ""}, "The room needs a name."),
        ({"name": "Shop"}, "There is a room of that name already."),
        ({"drying_places": "0"}, "Type a whole number from 1"),
        ({"climate_day": "warm"}, "warm"),
        ({"humidity": "101"}, "From 0 to 100 %"),
        ({"settle_minutes": "soon"}, "Type a time like 45"),
    ],
)
def test_what_is_wrong_comes_back(
    owner: FlaskClient, db: Session, shop: Shop, typed: dict[str, str], message: str
) -> None:
    page = owner.post("/shop/rooms", data={"name": "Loft"} | typed)
    assert page.status_code == 422
    assert message in page.text
    factories.anew(db)
    assert len(shop.rooms) == 1


def test_a_room_is_changed_and_the_second_of_two_is_told(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: two change one room."""
    key, old = shop.rooms[0].id, version(owner, shop.rooms[0].id)
    assert owner.post(f"/shop/rooms/{key}", data={"name": "Bench room", "version": old}).status_code == 303
    page = owner.post(f"/shop/rooms/{key}", data={"name": "Front", "version": old})
    assert page.status_code == 409
    assert "<td>Bench room</td><td>Front</td>" in page.text
    factories.anew(db)
    assert shop.rooms[0].name == "Bench room"


def test_the_only_room_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    page = owner.post(f"/shop/rooms/{shop.rooms[0].id}/delete")
    assert page.status_code == 409
    assert "This is the only room" in page.text


def test_a_room_is_given_up_with_its_readings(owner: FlaskClient, db: Session, shop: Shop) -> None:
    loft = Room(shop_id=shop.id, name="Loft")
    db.add(loft)
    db.flush()
    db.add(Reading(shop_id=shop.id, room_id=loft.id, at=START, temperature=20.0))
    db.commit()
    assert owner.post(f"/shop/rooms/{loft.id}/delete").status_code == 303
    factories.anew(db)
    assert db.scalars(select(Room.name)).all() == ["Shop"]
    assert db.scalars(select(Reading)).all() == []


def test_another_shops_room_does_not_exist(owner: FlaskClient, stranger: FlaskClient, shop: Shop) -> None:
    for path in ("", "/delete"):
        assert stranger.post(f"/shop/rooms/{shop.rooms[0].id}{path}", data={"name": "x"}).status_code == 404
    assert stranger.get(f"/shop/rooms/{shop.rooms[0].id}").status_code == 404
