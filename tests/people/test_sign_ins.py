"""Where somebody is signed in, and ending it from elsewhere."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.people import actions as people
from webapp.people.models import Person, SignIn
from webapp.shops.models import Shop

PHONE = "Mozilla/5.0 (Android 14; Mobile; rv:130.0) Gecko/130.0 Firefox/130.0"


def phone(app: Flask, db: Session, shop: Shop, name: str = "Ada") -> tuple[FlaskClient, int]:
    client = factories.client_of(app, db, shop, name)
    row = db.scalars(select(SignIn).order_by(SignIn.id.desc())).first()
    assert row is not None
    row.device = PHONE
    db.commit()
    return client, row.id


def test_the_devices_are_listed_in_words(app: Flask, db: Session, shop: Shop, owner: FlaskClient) -> None:
    phone(app, db, shop)
    page = owner.get("/sign-ins")
    assert "Firefox on Android" in page.text
    assert "this one" in page.text


def test_another_device_is_signed_out(app: Flask, db: Session, shop: Shop, owner: FlaskClient) -> None:
    other, key = phone(app, db, shop)
    assert other.get("/shop").status_code == 200
    assert owner.post(f"/sign-ins/{key}/delete").status_code == 303
    assert other.get("/shop").location == "/sign-in?next=/shop"
    assert owner.get("/shop").status_code == 200


def test_all_others_are_signed_out_and_other_people_stay(
    app: Flask, db: Session, shop: Shop, owner: FlaskClient, helper: FlaskClient
) -> None:
    other, _ = phone(app, db, shop)
    third, _ = phone(app, db, shop)
    assert owner.post("/sign-ins/others/delete").status_code == 303
    assert other.get("/shop").status_code == third.get("/shop").status_code == 303
    assert owner.get("/sign-ins").status_code == helper.get("/sign-ins").status_code == 200


def test_everywhere_means_here_too(
    app: Flask, db: Session, shop: Shop, owner: FlaskClient, helper: FlaskClient
) -> None:
    other, _ = phone(app, db, shop)
    answer = owner.post("/sign-ins/delete")
    assert (answer.status_code, answer.location) == (303, "/sign-in")
    assert owner.get("/shop").status_code == other.get("/shop").status_code == 303
    assert "this one too" in owner.get("/sign-in").text
    assert helper.get("/sign-ins").status_code == 200


def test_who_comes_without_a_cookie_each_time_does_not_fill_the_table(
    nobody: FlaskClient, app: Flask, db: Session, shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On its own computer each such visit is a sign-in: a program that looks whether the page is up, say."""
    monkeypatch.setattr(people, "MOST_SIGN_INS", 3)
    maker = factories.maker(db, shop, "Ada")
    db.get_one(Person, maker.person_id).password_hash = None
    db.commit()
    for _ in range(5):
        assert app.test_client().get("/shop").status_code == 200
    factories.anew(db)
    assert db.scalar(select(func.count(SignIn.id))) == 3


def test_what_was_ended_long_ago_is_let_go(app: Flask, db: Session, shop: Shop, clock: Clock) -> None:
    factories.maker(db, shop, "Ada")
    factories.give_password(db, "Ada", "plane iron walnut")
    for wait in (0, 1, 31):
        clock.forward(days=wait)
        client = app.test_client()
        client.post("/sign-in", data={"name": "Ada", "password": "plane iron walnut"})
        client.post("/sign-out")
    factories.anew(db)
    assert len(db.scalars(select(SignIn)).all()) == 1


def test_somebody_elses_sign_in_does_not_exist(
    app: Flask, db: Session, shop: Shop, stranger: FlaskClient, helper: FlaskClient
) -> None:
    _, key = phone(app, db, shop)
    assert stranger.post(f"/sign-ins/{key}/delete").status_code == 404
    assert helper.post(f"/sign-ins/{key}/delete").status_code == 404
    assert helper.post("/sign-ins/999999/delete").status_code == 404
    db.rollback()
    assert db.get_one(SignIn, key).ended_at is None


def test_ending_this_one_goes_out(owner: FlaskClient, db: Session) -> None:
    key = db.scalars(select(SignIn.id)).one()
    owner.post(f"/sign-ins/{key}/delete")
    assert owner.get("/shop").location == "/sign-in?next=/shop"


def test_a_person_without_a_shop_sees_the_page_too(app: Flask, db: Session, shop: Shop) -> None:
    client = factories.client_of(app, db, shop, "Ada")
    factories.maker(db, shop, "Ada").left_on = shop.created_at.date()
    db.commit()
    page = client.get("/sign-ins")
    assert page.status_code == 200
    assert "You do not work in any shop here" in page.text
