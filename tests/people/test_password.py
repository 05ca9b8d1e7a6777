"""One's own password."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.people.brake import TRIES
from webapp.people.models import Person
from webapp.shops.models import Shop

OLD, NEW = "plane iron walnut", "rabbet block maple"


@pytest.fixture
def ada(app: Flask, db: Session, shop: Shop) -> FlaskClient:
    client = factories.client_of(app, db, shop, "Ada")
    factories.give_password(db, "Ada", OLD)
    return client


def change(client: FlaskClient, old: str = OLD, new: str = NEW, again: str = NEW) -> int:
    data = {"old_password": old, "password": new, "password_again": again}
    return client.post("/password", data=data).status_code


def can_sign_in(app: Flask, password: str) -> bool:
    return app.test_client().post("/sign-in", data={"name": "Ada", "password": password}).status_code == 303


def test_the_password_is_changed_and_other_devices_are_out(
    app: Flask, db: Session, shop: Shop, ada: FlaskClient
) -> None:
    other = factories.client_of(app, db, shop, "Ada")
    assert change(ada) == 303
    assert not can_sign_in(app, OLD)
    assert can_sign_in(app, NEW)
    assert ada.get("/shop").status_code == 200
    assert other.get("/shop").status_code == 303


def test_a_copy_of_the_cookie_of_this_device_is_out_too(app: Flask, ada: FlaskClient) -> None:
    """Whoever changes a password fears that somebody is in: perhaps with this very cookie."""
    with ada.session_transaction() as cookie:
        copied = dict(cookie)
    assert change(ada) == 303
    thief = app.test_client()
    with thief.session_transaction() as cookie:
        cookie.update(copied)
    assert thief.get("/shop").status_code == 303
    assert ada.get("/shop").status_code == 200


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"old": "wrong wrong"}, "That is not your password."),
        ({"new": "short", "again": "short"}, "At least 10 characters"),
        ({"again": "another another"}, "The two are not the same"),
        ({"new": "", "again": ""}, "A new password, please."),
    ],
)
def test_what_is_wrong_is_said_and_nothing_changes(
    app: Flask, ada: FlaskClient, typed: dict[str, str], message: str
) -> None:
    found = {"old": OLD, "new": NEW, "again": NEW, **typed}
    data = {"old_password": found["old"], "password": found["new"], "password_again": found["again"]}
    page = ada.post("/password", data=data)
    assert page.status_code == 422
    assert message in page.text
    assert can_sign_in(app, OLD)


def test_guessing_the_old_one_is_braked(ada: FlaskClient) -> None:
    for _ in range(TRIES):
        assert change(ada, old="guess guess") == 422
    assert change(ada) == 429


def test_who_has_none_sets_one_without_the_old(nobody: FlaskClient, app: Flask, db: Session, shop: Shop) -> None:
    maker = factories.maker(db, shop, "Ada")
    db.get_one(Person, maker.person_id).password_hash = None
    db.commit()
    assert "Password now" not in nobody.get("/password").text
    assert change(nobody, old="") == 303
    assert app.test_client().get("/shop").status_code == 303
    assert can_sign_in(app, NEW)


def test_nobody_has_no_password_to_change(nobody: FlaskClient, ada: FlaskClient) -> None:
    assert nobody.get("/password").location == "/sign-in?next=/password"
    assert change(nobody) == 401
