"""The hours of one maker, in place of the shop's."""

import re

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import HELPER, Maker, Shop


def save(client: FlaskClient, key: int, **typed: str):  # type: ignore[no-untyped-def]
    path = f"/shop/makers/{key}/hours"
    found = re.search(r'name="version" value="(\w+)"', client.get(path).text)
    assert found
    return client.post(path, data={"version": found[1], **typed})


def hours(db: Session, maker: Maker) -> list[tuple[int, int, int]]:
    factories.anew(db)
    return [(row.weekday, row.opens, row.closes) for row in maker.openings]


def test_a_helper_comes_on_thursday_afternoons(owner: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    assert re.search(r'name="d0_1_from"[^>]*value="08:00"', owner.get(f"/shop/makers/{ben.id}/hours").text)
    answer = save(owner, ben.id, d3_1_from="13", d3_1_to="17")
    assert answer.location == f"/shop/makers/{ben.id}"
    assert hours(db, ben) == [(3, 780, 1020)]
    assert "Thu 13:00–17:00" in owner.get("/shop").text


def test_wrong_hours_are_refused(owner: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    assert save(owner, ben.id, d3_1_from="17", d3_1_to="13").status_code == 422
    assert save(owner, ben.id).status_code == 422
    assert hours(db, ben) == []


def test_the_shops_hours_hold_again(owner: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    save(owner, ben.id, d3_1_from="13", d3_1_to="17")
    owner.post(f"/shop/makers/{ben.id}/hours/delete")
    assert hours(db, ben) == []
    assert len(shop.openings) == 5


def test_an_old_form_is_told(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: the hours of one maker, set twice from the same state."""
    ben = factories.maker(db, shop, "Ben", HELPER)
    page = owner.get(f"/shop/makers/{ben.id}/hours").text
    old = re.search(r'name="version" value="(\w+)"', page)
    assert old
    data = {"version": old[1], "d3_1_from": "13", "d3_1_to": "17"}
    assert owner.post(f"/shop/makers/{ben.id}/hours", data=data).status_code == 303
    assert owner.post(f"/shop/makers/{ben.id}/hours", data=data | {"d3_1_to": "18"}).status_code == 409
    assert hours(db, ben) == [(3, 780, 1020)]


def test_monday_can_be_copied(owner: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    page = save(owner, ben.id, d0_1_from="7", d0_1_to="11", copy="monday")
    assert re.search(r'name="d4_1_to"[^>]*value="11"', page.text)
    assert hours(db, ben) == []
