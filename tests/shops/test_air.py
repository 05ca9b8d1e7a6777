"""The air in two fields, on the bench and on its own page: GET and POST /shop/air."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from webapp.shops.document import planning_shop
from webapp.shops.models import Reading, Room, Shop


def readings(db: Session) -> list[Reading]:
    factories.anew(db)
    return list(db.scalars(select(Reading).order_by(Reading.id)))


def words(page: str) -> str:
    return " ".join(page.split())


def test_two_figures_on_the_bench_are_a_reading_of_now(owner: FlaskClient, db: Session, clock: Clock) -> None:
    page = owner.get("/").text
    assert 'action="/shop/air?next=/"' in page
    assert page.count('inputmode="decimal"') == 2
    answer = owner.post("/shop/air?next=/", data={"temperature": "61", "humidity": "45"})
    assert (answer.status_code, answer.location) == (303, "/")
    row = readings(db)[0]
    assert row.temperature == pytest.approx(16.1111, abs=1e-4)  # (61 - 32) * 5 / 9
    assert (row.humidity, row.unit, row.at, row.room_id, row.sensor_id) == (45, "F", START, None, None)
    page = owner.get("/").text
    assert "Noted: 61 °F, 45 %." in page
    assert f'data-until="{START.isoformat()}">now<' in page
    clock.forward(minutes=20)
    assert ">20 min ago<" in owner.get("/").text


def test_a_helper_may_and_a_stranger_writes_into_their_own(
    helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    assert helper.post("/shop/air", data={"humidity": "45"}).status_code == 303
    assert "45 %" not in stranger.get("/shop/air").text
    room = str(shop.rooms[0].id)
    assert stranger.post("/shop/air", data={"humidity": "46", "room_id": room}).status_code == 422
    assert [row.shop_id for row in readings(db)] == [shop.id]


@pytest.mark.parametrize(
    ("typed", "message", "kept"),
    [
        ({"temperature": "145", "humidity": "45"}, "From -40 to 122 °F, please.", ('value="145"', 'value="45"')),
        ({"temperature": "mild", "humidity": "45"}, "Type degrees like 58 or 14.5 °F.", ('value="mild"', 'value="45"')),
        ({"temperature": "61", "humidity": "145"}, "From 0 to 100 %", ('value="61"', 'value="145"')),
        ({}, "Type the temperature, the humidity or both.", ()),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(
    owner: FlaskClient, db: Session, typed: dict[str, str], message: str, kept: tuple[str, ...]
) -> None:
    answer = owner.post("/shop/air?next=/", data=typed)
    assert answer.status_code == 422
    assert message in answer.text
    assert all(text in answer.text for text in (*kept, 'class="wrong"', 'action="/shop/air?next=/"'))
    assert readings(db) == []


def test_sent_twice_is_once(owner: FlaskClient, db: Session) -> None:
    """SA15: a double tap with glue on the fingers."""
    for _ in range(2):
        assert owner.post("/shop/air", data={"humidity": "45", "once": "k"}).status_code == 303
    assert len(readings(db)) == 1


def test_the_room_is_asked_for_where_there_are_several(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert 'name="room_id"' not in owner.get("/").text
    loft = Room(shop_id=shop.id, name="Loft")
    db.add(loft)
    db.commit()
    assert 'name="room_id"' in owner.get("/").text
    owner.post("/shop/air", data={"temperature": "61", "room_id": str(loft.id)})
    assert readings(db)[0].room_id == loft.id
    assert "<bdi>Loft</bdi>" in owner.get("/shop/air").text


def test_an_old_reading_says_that_it_does_not_count(owner: FlaskClient, db: Session, shop: Shop) -> None:
    db.add(Reading(shop_id=shop.id, at=START - timedelta(hours=30), humidity=40.0))
    db.commit()
    page = words(owner.get("/shop/air").text)
    assert "Mon 2, 08:18: too old to count, a reading holds 12 h" in page


def test_with_the_windows_shut_a_reading_does_not_open_them(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA08: hours that were said not to count go on not counting while the temperature is noted."""
    owner.post("/shop/readings", data={"humidity": "45", "stopped": "y"})
    clock.forward(hours=1)
    owner.post("/shop/air", data={"temperature": "61"})
    assert "Waits stand still, noted 14:18" in words(owner.get("/").text)
    factories.anew(db)
    shop_now = planning_shop(db.get_one(Shop, shop.id))
    assert [one.counts for one in shop_now.climate.readings] == [False, None]
    page = owner.get("/shop/readings").text
    assert 'checked id="stopped"' in page
    clock.forward(hours=1)
    owner.post("/shop/readings", data={"humidity": "45"})
    assert "Waits stand still, noted" not in owner.get("/").text
