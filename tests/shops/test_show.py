"""The shop's page: for owners."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.conftest import START
from webapp.shops.models import Closed, Equipment, Extra, Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database


def test_an_owner_sees_the_shop_and_its_settings(owner: FlaskClient, db: Session, shop: Shop) -> None:
    today = START.date()
    db.add(Equipment(shop_id=shop.id, name="Long clamps", count=8))
    db.add(Closed(shop_id=shop.id, first_on=today + timedelta(days=9), last_on=today + timedelta(days=12), note="Fair"))
    db.add(Extra(shop_id=shop.id, on_day=today + timedelta(days=4), opens=540, closes=720))
    db.commit()
    page = owner.get("/shop")
    assert page.status_code == 200
    for text in ("Two Bench Shop", "08:00–17:00", "Long clamps", "Fair", "Sat 7", "America/New York", "68 °F by day"):
        assert text in page.text


def test_days_gone_by_are_not_shown(owner: FlaskClient, db: Session, shop: Shop) -> None:
    db.add(Closed(shop_id=shop.id, first_on=START.date() - timedelta(days=2), last_on=START.date(), note="Still shut"))
    db.add(
        Closed(
            shop_id=shop.id,
            first_on=START.date() - timedelta(days=9),
            last_on=START.date() - timedelta(days=1),
            note="Over",
        )
    )
    db.commit()
    page = owner.get("/shop").text
    assert "Still shut" in page
    assert "Over" not in page


SETTINGS = [
    "details",
    "hours",
    "closed",
    "extra",
    "makers",
    "equipment",
    "rooms",
    "climate",
    "makers/{maker}",
    "makers/{maker}/hours",
    "rooms/{room}",
]


@pytest.mark.parametrize("path", ["", *SETTINGS])
def test_a_helper_may_not_and_a_stranger_sees_only_their_own(
    owner: FlaskClient,
    helper: FlaskClient,
    stranger: FlaskClient,
    nobody: FlaskClient,
    db: Session,
    shop: Shop,
    path: str,
) -> None:
    path = path.format(maker=shop.makers[0].id, room=shop.rooms[0].id)
    address = f"/shop/{path}".rstrip("/")
    assert owner.get(address).status_code == 200
    assert helper.get(address).status_code == 403
    if "/" in path:
        assert stranger.get(address).status_code == 404
    else:
        assert "Two Bench Shop" not in stranger.get(address).text
    assert nobody.get(address).location == f"/sign-in?next={address}"


POSTS = [
    *SETTINGS,
    "closed/1/delete",
    "extra/1/delete",
    "equipment/1",
    "equipment/1/delete",
    "rooms/{room}/delete",
    "readings/1/delete",
    "makers/{maker}/leaving",
    "makers/{maker}/leaving/delete",
    "makers/{maker}/hours/delete",
    "makers/{maker}/rates",
    "makers/{maker}/rates/1/delete",
    "makers/{maker}/account",
]


@pytest.mark.parametrize("path", POSTS)
def test_nobody_but_an_owner_changes_anything(
    owner: FlaskClient, helper: FlaskClient, stranger: FlaskClient, nobody: FlaskClient, shop: Shop, path: str
) -> None:
    address = "/shop/" + path.format(maker=shop.makers[0].id, room=shop.rooms[0].id)
    assert helper.post(address).status_code == 403
    assert nobody.post(address).status_code == 401
    if "/" in path:
        assert stranger.post(address).status_code == 404


def test_only_owners_are_shown_the_way_to_the_settings(owner: FlaskClient, helper: FlaskClient) -> None:
    assert 'href="/shop"' in owner.get("/shop/readings").text
    assert 'href="/shop"' not in helper.get("/shop/readings").text


def test_names_are_shown_as_text(owner: FlaskClient, db: Session, shop: Shop) -> None:
    db.add(Equipment(shop_id=shop.id, name="<b onclick=x>clamps</b>", count=1))
    db.commit()
    assert "<b onclick" not in owner.get("/shop").text
