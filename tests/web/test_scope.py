"""An id in a field of a form is as closed as one in an address: rows of another shop cannot be chosen."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.journal.models import Entry
from webapp.shops.models import Equipment, Reading, Room, Shop
from webapp.stock.models import Material

BILL = {"kind": "wood", "name": "Ash", "quantity": "1", "unit": "pcs", "unit_price": "1", "bought_on": "2026-02-03"}


@pytest.fixture
def theirs(db: Session) -> dict[str, int]:
    """The ids of what another shop has."""
    shop = factories.shop(db, "Elsewhere")
    build = factories.build(db, shop, "Their desk")
    operation = factories.operation(db, build, "mill")
    product = factories.product(db, shop)
    equipment = Equipment(shop_id=shop.id, name="clamps", count=8)
    db.add(equipment)
    db.commit()
    room = db.scalars(select(Room.id).where(Room.shop_id == shop.id)).one()
    return {
        "build": build.id, "operation": operation.id, "product": product.id, "room": room, "equipment": equipment.id,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("field", "of"),
    [("product_id", "product"), ("room_id", "room"), ("over_id", "operation"), ("again_for_id", "operation"),
     ("wait_1", "operation"), ("hold_1", "equipment")],
)  # fmt: skip
@pytest.mark.parametrize("is_new", [True, False])
def test_an_operation_takes_nothing_of_theirs(
    owner: FlaskClient, db: Session, shop: Shop, theirs: dict[str, int], field: str, of: str, is_new: bool
) -> None:
    build = factories.build(db, shop)
    one = factories.operation(db, build, "mill")
    address = f"/builds/{build.id}/operations" if is_new else f"/operations/{one.id}/edit"
    sent = typed.operation(version="1", **{field: str(theirs[of])})
    answer = owner.post(address, data=sent)
    assert answer.status_code == 422
    assert "Please choose one of these." in answer.text
    db.rollback()
    assert db.scalars(select(Operation.id).where(Operation.build_id == build.id)).all() == [one.id]


def test_a_line_of_a_bill_is_for_no_build_of_theirs(owner: FlaskClient, db: Session, theirs: dict[str, int]) -> None:
    assert owner.post("/stock/new", data={**BILL, "build": str(theirs["build"])}).status_code == 422
    assert db.scalar(select(Material.id)) is None


def test_a_reading_is_taken_in_no_room_of_theirs(owner: FlaskClient, db: Session, theirs: dict[str, int]) -> None:
    sent = {"temperature": "60", "room_id": str(theirs["room"])}
    assert owner.post("/shop/readings", data=sent).status_code == 422
    assert db.scalar(select(Reading.id)) is None


def test_hours_and_places_stay_in_the_build(
    owner: FlaskClient, db: Session, shop: Shop, theirs: dict[str, int]
) -> None:
    build = factories.build(db, shop)
    one = factories.operation(db, build, "mill")
    hours = {"minutes": "10", "day": "2026-02-03", "operation": str(theirs["operation"])}
    assert owner.post(f"/builds/{build.id}/hours", data=hours).status_code == 422
    assert db.scalar(select(Entry.id)) is None
    assert owner.post(f"/operations/{one.id}/place", data={"before": str(theirs["operation"])}).status_code == 303
    db.rollback()
    assert db.get_one(Operation, theirs["operation"]).build_id == theirs["build"]
    assert owner.get(f"/builds/{build.id}/operations/new?after={theirs['operation']}").status_code == 200


def test_a_line_of_theirs_cannot_be_put_right(owner: FlaskClient, db: Session, theirs: dict[str, int]) -> None:
    build = db.get_one(Build, theirs["build"])
    maker = factories.maker(db, db.get_one(Shop, build.shop_id), "Cleo")
    line = factories.entry(db, maker, "noted", factories.LONG_AGO, on=build, note="theirs")
    for verb in ("edit", "undo", "stopped"):
        assert owner.post(f"/entries/{line.id}/{verb}", data={"at": "2026-02-03T10:00"}).status_code == 404


def test_the_id_of_a_line_of_theirs_is_not_ours_already(
    owner: FlaskClient, db: Session, theirs: dict[str, int]
) -> None:
    build = db.get_one(Build, theirs["build"])
    maker = factories.maker(db, db.get_one(Shop, build.shop_id), "Cleo")
    line = factories.entry(db, maker, "noted", factories.LONG_AGO, on=build, note="theirs")
    answer = owner.post("/journal/note", data={"id": line.id, "note": "ours"})
    assert answer.status_code == 422
    assert "could not be taken" in answer.text
