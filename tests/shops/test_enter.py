"""Going from one shop to another."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop


def test_somebody_with_two_shops_goes_from_one_to_the_other(owner: FlaskClient, db: Session, shop: Shop) -> None:
    second = factories.shop(db, "Cottage")
    factories.maker(db, second, "Ada")
    assert "<bdi>Two Bench Shop</bdi></h1>" in owner.get("/shop").text
    assert f'action="/shops/{second.id}/enter"' in owner.get("/shop").text
    assert f'action="/shops/{second.id}/enter"' in owner.get("/sign-ins").text
    assert owner.post(f"/shops/{second.id}/enter").location == "/"
    assert "<bdi>Cottage</bdi></h1>" in owner.get("/shop").text


def test_a_shop_one_does_not_work_in_does_not_exist(owner: FlaskClient, stranger: FlaskClient, shop: Shop) -> None:
    assert stranger.post(f"/shops/{shop.id}/enter").status_code == 404
    assert "Elsewhere" in stranger.get("/shop").text
    assert owner.post("/shops/999999/enter").status_code == 404


def test_a_shop_one_has_left_does_not_exist(owner: FlaskClient, db: Session, shop: Shop) -> None:
    second = factories.shop(db, "Cottage")
    factories.maker(db, second, "Ada").left_on = shop.created_at.date()
    db.commit()
    assert owner.post(f"/shops/{second.id}/enter").status_code == 404


def test_a_cookie_that_names_another_shop_does_not_lead_into_it(stranger: FlaskClient, shop: Shop) -> None:
    with stranger.session_transaction() as cookie:
        cookie["shop"] = shop.id
    assert "Elsewhere" in stranger.get("/shop").text


def test_nobody_is_asked_to_sign_in(nobody: FlaskClient, owner: FlaskClient, shop: Shop) -> None:
    assert nobody.post(f"/shops/{shop.id}/enter").status_code == 401
