"""The sign-in of a maker, given by an owner."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.people.models import Person
from webapp.shops.models import HELPER, Maker, Shop

WORDS = "spoke shave pear"


@pytest.fixture
def ben(db: Session, shop: Shop) -> Maker:
    return factories.maker(db, shop, "Ben", HELPER, signs_in=False)


def let_in(client: FlaskClient, maker: Maker, name: str = "Ben", password: str = WORDS):  # type: ignore[no-untyped-def]
    return client.post(f"/shop/makers/{maker.id}/account", data={"sign_in_name": name, "password": password})


def sign_in(app: Flask, name: str = "Ben", password: str = WORDS) -> FlaskClient:
    client = app.test_client()
    client.post("/sign-in", data={"name": name, "password": password})
    return client


def test_a_maker_is_let_in_as_a_helper(app: Flask, owner: FlaskClient, ben: Maker) -> None:
    assert let_in(owner, ben).status_code == 303
    client = sign_in(app)
    assert client.get("/shop/readings").status_code == 200
    assert client.get("/shop").status_code == 403


def test_a_helper_who_forgot_gets_a_new_password_and_old_devices_are_out(
    app: Flask, owner: FlaskClient, ben: Maker
) -> None:
    let_in(owner, ben)
    old = sign_in(app)
    assert let_in(owner, ben, password="drawer knife oak").status_code == 303
    assert old.get("/shop/readings").status_code == 303
    assert sign_in(app, password="drawer knife oak").get("/shop/readings").status_code == 200


def test_the_password_of_an_owner_is_nobody_elses_to_set(owner: FlaskClient, db: Session, shop: Shop) -> None:
    cora = factories.maker(db, shop, "Cora")
    assert let_in(owner, cora, "Cora").status_code == 403
    ada = factories.maker(db, shop, "Ada")
    assert let_in(owner, ada, "Ada").status_code == 403


def test_a_helper_of_two_shops_sets_the_password_alone(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """Else the owner of one shop could walk into the other."""
    dan = factories.maker(db, shop, "Dan", HELPER)
    factories.maker(db, factories.shop(db, "Elsewhere"), "Dan")
    assert let_in(owner, dan, "Dan").status_code == 403


@pytest.mark.parametrize(
    ("name", "password", "message"),
    [
        ("", WORDS, "A name, please."),
        ("Ben", "", "A password, please."),
        ("Ben", "short", "At least 10 characters"),
        ("ada", WORDS, "signs in by that name already"),
    ],
)
def test_what_is_wrong_is_said(
    owner: FlaskClient, db: Session, ben: Maker, name: str, password: str, message: str
) -> None:
    page = let_in(owner, ben, name, password)
    assert page.status_code == 422
    assert message in page.text
    if password:
        assert f'value="{password}"' not in page.text
    factories.anew(db)
    assert len(db.scalars(select(Person)).all()) == 1


def test_an_owner_without_a_password_sets_their_own_first(
    nobody: FlaskClient, db: Session, shop: Shop, ben: Maker
) -> None:
    """With a second account the server lets nobody in without a password, the owner neither."""
    maker = factories.maker(db, shop, "Ada")
    db.get_one(Person, maker.person_id).password_hash = None
    db.commit()
    page = let_in(nobody, ben)
    assert page.status_code == 422
    assert "Set a password of your own first" in page.text
