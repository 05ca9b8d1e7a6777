"""A line of a bill taken away."""

from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests.stock.typed import material
from webapp.shops.models import Shop
from webapp.stock.models import Material


def count(db: Session) -> int:
    db.rollback()  # a new look
    return db.scalar(select(func.count()).select_from(Material)) or 0


def test_the_owner_takes_a_line_away(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    assert owner.post(f"/stock/{found.id}/delete").status_code == 303
    assert count(db) == 0


def test_taken_away_twice_is_not_there(owner: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/stock/{material(db, shop).id}/delete"
    assert owner.post(address).status_code == 303
    assert owner.post(address).status_code == 404


def test_a_helper_may_not(helper: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    assert "Take it away" not in helper.get(f"/stock/{found.id}/edit").text
    assert helper.post(f"/stock/{found.id}/delete").status_code == 403
    assert count(db) == 1


def test_a_stranger_finds_no_such_line(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    assert stranger.post(f"/stock/{material(db, shop).id}/delete").status_code == 404
    assert count(db) == 1
