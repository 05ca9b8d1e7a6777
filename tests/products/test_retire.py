"""A product not used any more, and used again."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop


def test_retired_it_cannot_be_chosen_newly_but_stays_where_it_is(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    operation = factories.operation(db, factories.build(db, shop), "glue-up", product_id=found.id)
    assert owner.post(f"/products/{found.id}/retire").status_code == 303
    db.rollback()
    assert found.retired
    assert operation.product_id == found.id
    offered = f'<option value="{found.id}">yellow PVA</option>'
    assert offered not in owner.get(f"/builds/{operation.build_id}/operations/new").text
    assert "yellow PVA</option>" in owner.get(f"/operations/{operation.id}/edit").text


def test_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    assert [owner.post(f"/products/{found.id}/retire").status_code for _ in range(2)] == [303, 303]


def test_it_can_be_used_again(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    owner.post(f"/products/{found.id}/retire")
    assert owner.post(f"/products/{found.id}/retire/delete").status_code == 303
    db.rollback()
    assert not found.retired


def test_a_helper_may_not(helper: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    assert helper.post(f"/products/{found.id}/retire").status_code == 403
    assert helper.post(f"/products/{found.id}/retire/delete").status_code == 403


def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    assert stranger.post(f"/products/{found.id}/retire").status_code == 404
    assert stranger.post(f"/products/{found.id}/retire/delete").status_code == 404
