"""How warm and humid it was, read off by whoever stands in the shop."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from webapp.shops.models import Reading, Shop


def readings(db: Session) -> list[Reading]:
    factories.anew(db)
    return list(db.scalars(select(Reading).order_by(Reading.id)))


def test_it_is_61_and_45_percent_now(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert owner.post("/shop/readings", data={"temperature": "61 °F", "humidity": "45"}).status_code == 303
    row = readings(db)[0]
    assert row.temperature == pytest.approx(16.111, abs=1e-3)  # (61 - 32) * 5 / 9
    assert (row.humidity, row.unit, row.at, row.counts, row.room_id) == (45, "F", START, True, None)
    page = owner.get("/shop/readings").text
    assert "61 °F, 45 %" in page
    assert "14:18" in page


def test_a_helper_may_note_one_and_only_an_owner_strikes_it_out(
    owner: FlaskClient, helper: FlaskClient, stranger: FlaskClient, db: Session
) -> None:
    assert helper.post("/shop/readings", data={"temperature": "61"}).status_code == 303
    row = readings(db)[0]
    assert helper.post(f"/shop/readings/{row.id}/delete").status_code == 403
    assert stranger.post(f"/shop/readings/{row.id}/delete").status_code == 404
    assert "61 °F" not in stranger.get("/shop/readings").text
    assert owner.post(f"/shop/readings/{row.id}/delete").status_code == 303
    assert readings(db) == []


def test_sent_twice_is_once(owner: FlaskClient, db: Session) -> None:
    """SA15: a double tap notes one reading."""
    for _ in range(2):
        assert owner.post("/shop/readings", data={"humidity": "45", "once": "k"}).status_code == 303
    assert len(readings(db)) == 1


def test_another_time_and_place(owner: FlaskClient, db: Session, shop: Shop) -> None:
    room = shop.rooms[0].id
    typed = {"temperature": "-4", "at": "2026-02-03T06:00", "room_id": str(room), "stopped": "y"}
    owner.post("/shop/readings", data=typed)
    row = readings(db)[0]
    assert row.temperature == pytest.approx(-20)
    assert (row.at, row.room_id, row.counts) == (START - timedelta(hours=8, minutes=18), room, False)
    assert "waits stand still" in owner.get("/shop/readings").text


def test_celsius_may_be_typed_in_a_fahrenheit_shop(owner: FlaskClient, db: Session) -> None:
    owner.post("/shop/readings", data={"temperature": "16.5 °C"})
    assert readings(db)[0].temperature == pytest.approx(16.5)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({}, "Type the temperature, the humidity or both."),
        ({"temperature": "mild"}, "mild"),
        ({"temperature": "61", "humidity": "145"}, "From 0 to 100 %"),
        ({"temperature": "61", "at": "2026-02-03T14:30"}, "That is still to come."),
        ({"temperature": "61", "room_id": "999999"}, "Please choose one of these."),
    ],
)
def test_what_is_wrong_comes_back(owner: FlaskClient, db: Session, typed: dict[str, str], message: str) -> None:
    page = owner.post("/shop/readings", data=typed)
    assert page.status_code == 422
    assert message in page.text
    assert readings(db) == []


def test_another_shops_room_cannot_be_chosen(stranger: FlaskClient, owner: FlaskClient, shop: Shop) -> None:
    page = stranger.post("/shop/readings", data={"temperature": "61", "room_id": str(shop.rooms[0].id)})
    assert page.status_code == 422


def test_the_quick_form_leads_back_to_the_shop(owner: FlaskClient) -> None:
    assert 'action="/shop/readings?next=/shop"' in owner.get("/shop").text
    assert owner.post("/shop/readings?next=/shop", data={"humidity": "40"}).location == "/shop"
    assert owner.post("/shop/readings?next=//evil.example", data={"humidity": "41"}).location == "/shop/readings"


def test_the_list_goes_by_pages(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    db.add_all(Reading(shop_id=shop.id, at=START - timedelta(hours=hour), humidity=20.0 + hour) for hour in range(30))
    db.commit()
    first, second = owner.get("/shop/readings").text, owner.get("/shop/readings?page=2").text
    assert "20 %" in first
    assert "49 %" not in first
    assert "49 %" in second
