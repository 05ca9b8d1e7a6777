"""A new line of a bill."""

from decimal import Decimal

import pytest
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.stock.typed import line
from webapp.shops.models import Shop
from webapp.stock.models import Material


def count(db: Session) -> int:
    db.rollback()  # a new look
    return db.scalar(select(func.count()).select_from(Material)) or 0


def only(db: Session) -> Material:
    db.rollback()  # a new look
    return db.scalars(select(Material)).one()


def test_a_line_for_the_shelf_is_kept_as_billed(owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/stock/new", data=line(supplier="the yard", note="two short ones"))
    assert answer.status_code == 303
    assert answer.location == "/stock?shelf="
    found = only(db)
    assert (found.name, found.quantity, found.unit, found.total_minor) == ("White oak 8/4", Decimal(12), "bd ft", 8700)
    assert found.build_id is None
    assert found.supplier == "the yard"


def test_a_line_for_a_build_stands_with_the_build(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    page = owner.get(f"/builds/{build.id}/materials/new").text
    assert "Bought for Hall table" in page
    assert f'<option selected value="{build.id}">Hall table' in page
    answer = owner.post(f"/builds/{build.id}/materials/new", data=line(build=str(build.id)))
    assert answer.location == f"/stock?build={build.id}"
    assert only(db).build_id == build.id


@pytest.mark.parametrize(
    ("quantity", "price", "total"),
    [("3", "19.99", 5997), ("1", "2.675", 268), ("1", "0.125", 13), ("8.3333", "7.2505", 6042), ("1,5", "2,50", 375)],
)
def test_a_line_comes_to_the_cent(owner: FlaskClient, db: Session, quantity: str, price: str, total: int) -> None:
    """SA07: exact, rounded half up once; a comma is a decimal mark where it can be nothing else."""
    owner.post("/stock/new", data=line(quantity=quantity, unit_price=price))
    assert only(db).total_minor == total


@pytest.mark.parametrize("typed", ["1.234,56", "1e3", "NaN", "Infinity", "-0", "１２", "1,234", "0.00001"])
def test_a_number_that_is_not_clear_is_refused_and_stays(owner: FlaskClient, db: Session, typed: str) -> None:
    """SA07: refused with a message beside the field; what was typed is still there."""
    answer = owner.post("/stock/new", data=line(unit_price=typed, note="keep me"))
    assert answer.status_code == 422
    assert f'value="{typed}"' in answer.text
    assert "keep me" in answer.text
    assert 'id="unit_price-wrong"' in answer.text
    assert count(db) == 0


def test_three_dimes_are_thirty_cents(owner: FlaskClient, db: Session) -> None:
    """SA07: three lines of 0.10 make 0.30, summed by the database."""
    for name in ("one", "two", "three"):
        owner.post("/stock/new", data=line(name=name, quantity="1", unit_price="0.10"))
    assert "$0.30" in owner.get("/stock").text


def test_the_bill_counts_and_the_sizes_stand_beside_it(owner: FlaskClient, db: Session) -> None:
    """TA23: billed 9 bd ft; the sizes make 8.33 and the tally 8."""
    sizes = {"pieces": "1", "thickness": "8/4", "width": "6 1/4", "length": "8'"}
    owner.post("/stock/new", data=line(quantity="9", unit_price="10", **sizes))
    assert only(db).total_minor == 9000
    page = owner.get("/stock").text
    assert "9 bd ft at $10.00" in page
    assert "by its sizes 8.33 bd ft, by the yard&#39;s tally 8 bd ft" in page


def test_sizes_are_kept_as_typed_with_their_unit(owner: FlaskClient, db: Session) -> None:
    owner.post("/stock/new", data=line(thickness="4/4", width="6 1/4", length="8'"))
    found = only(db)
    assert (found.thickness_typed, found.width_typed, found.length_typed) == ("4/4", "6 1/4 in", "8'")


def test_what_is_missing_is_said_beside_its_field(owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/stock/new", data=line(name="", quantity="", bought_on="", width="wide"))
    assert answer.status_code == 422
    for field in ("name", "quantity", "bought_on", "width"):
        assert f'id="{field}-wrong"' in answer.text
    assert 'value="wide"' in answer.text


def test_a_sum_beyond_reason_is_refused(owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/stock/new", data=line(quantity="999999999999", unit_price="999999999999"))
    assert answer.status_code == 422
    assert "too large a sum" in answer.text


def test_a_line_of_nothing_is_refused(owner: FlaskClient, db: Session) -> None:
    assert owner.post("/stock/new", data=line(quantity="0")).status_code == 422


def test_a_helper_may_add_what_he_fetched(helper: FlaskClient, db: Session) -> None:
    assert helper.post("/stock/new", data=line()).status_code == 303
    assert count(db) == 1


def test_a_stranger_cannot_add_to_a_build(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert stranger.get(f"/builds/{build.id}/materials/new").status_code == 404
    assert stranger.post(f"/builds/{build.id}/materials/new", data=line()).status_code == 404
    assert stranger.post("/stock/new", data=line(build=str(build.id))).status_code == 422
    assert count(db) == 0


def test_sent_twice_is_one_line(owner: FlaskClient, db: Session) -> None:
    """SA15: the same form twice is one row and the same answer."""
    data = line(once="key-1", quantity="1", unit_price="42.50")
    first, second = owner.post("/stock/new", data=data), owner.post("/stock/new", data=data)
    assert (first.status_code, second.status_code) == (303, 303)
    assert first.location == second.location
    assert count(db) == 1
