"""Clamps, presses, forms."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.models import Hold
from webapp.shops.models import Equipment, Shop


@pytest.fixture
def clamps(db: Session, shop: Shop) -> Equipment:
    found = Equipment(shop_id=shop.id, name="Long clamps", count=8)
    db.add(found)
    db.commit()
    return found


def version(client: FlaskClient, row: Equipment) -> str:
    found = re.search(r'name="version" value="(\w+)"', client.get(f"/shop/equipment/{row.id}").text)
    assert found
    return found[1]


def test_it_is_added_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: sent twice, stored once."""
    for _ in range(2):
        assert owner.post("/shop/equipment", data={"name": "Press", "count": "1", "once": "k"}).status_code == 303
    factories.anew(db)
    assert [(row.name, row.count) for row in shop.equipment] == [("Press", 1)]
    assert "1 in all" in owner.get("/shop/equipment").text


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"name": ""}, "What is it?"),
        ({"name": "Long clamps"}, "That is on the list already"),
        ({"count": "a few"}, "Type a whole number"),
        ({"count": "-1"}, "Type a whole number"),
        ({"count": ""}, "How many are there?"),
    ],
)
def test_what_is_wrong_comes_back(
    owner: FlaskClient, db: Session, shop: Shop, clamps: Equipment, typed: dict[str, str], message: str
) -> None:
    page = owner.post("/shop/equipment", data={"name": "Press", "count": "1"} | typed)
    assert page.status_code == 422
    assert message in page.text
    factories.anew(db)
    assert len(shop.equipment) == 1


def test_the_number_is_changed(owner: FlaskClient, db: Session, clamps: Equipment) -> None:
    data = {"name": "Long clamps", "count": "10", "version": version(owner, clamps)}
    assert owner.post(f"/shop/equipment/{clamps.id}", data=data).status_code == 303
    factories.anew(db)
    assert clamps.count == 10


def test_the_second_of_two_is_told(owner: FlaskClient, db: Session, clamps: Equipment) -> None:
    """SA09: two count the clamps at once."""
    old = version(owner, clamps)
    owner.post(f"/shop/equipment/{clamps.id}", data={"name": "Long clamps", "count": "10", "version": old})
    page = owner.post(f"/shop/equipment/{clamps.id}", data={"name": "Long clamps", "count": "9", "version": old})
    assert page.status_code == 409
    assert "<td>10</td><td>9</td>" in page.text
    factories.anew(db)
    assert clamps.count == 10


def test_it_is_taken_off_the_list(owner: FlaskClient, db: Session, shop: Shop, clamps: Equipment) -> None:
    assert owner.post(f"/shop/equipment/{clamps.id}/delete").status_code == 303
    factories.anew(db)
    assert shop.equipment == []


def test_while_an_operation_holds_it_it_stays(owner: FlaskClient, db: Session, shop: Shop, clamps: Equipment) -> None:
    operation = factories.operation(db, factories.build(db, shop), "glue-up")
    operation.holds.append(Hold(equipment_id=clamps.id, count=6))
    db.commit()
    page = owner.post(f"/shop/equipment/{clamps.id}/delete")
    assert page.status_code == 409
    assert "an operation of a build still asks for it" in page.text
    factories.anew(db)
    assert [row.name for row in shop.equipment] == ["Long clamps"]


def test_another_shops_clamps_do_not_exist(stranger: FlaskClient, clamps: Equipment) -> None:
    assert stranger.get(f"/shop/equipment/{clamps.id}").status_code == 404
    assert stranger.post(f"/shop/equipment/{clamps.id}", data={"name": "x", "count": "1"}).status_code == 404
    assert stranger.post(f"/shop/equipment/{clamps.id}/delete").status_code == 404


def test_two_shops_may_own_things_of_one_name(stranger: FlaskClient, clamps: Equipment) -> None:
    assert stranger.post("/shop/equipment", data={"name": "Long clamps", "count": "2"}).status_code == 303
