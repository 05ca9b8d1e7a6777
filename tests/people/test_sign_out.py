"""Going out."""

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.people.models import SignIn


def test_after_signing_out_nothing_private_is_shown(owner: FlaskClient) -> None:
    """SA14: no page behind the guard may be kept by the browser, so that going back asks to sign in."""
    before = owner.get("/shop")
    assert before.headers["Cache-Control"] == "no-store"
    assert owner.post("/sign-out").location == "/sign-in"
    assert owner.get("/shop").location == "/sign-in?next=/shop"


def test_the_old_cookie_is_worth_nothing_afterwards(owner: FlaskClient, app: Flask, db: Session) -> None:
    with owner.session_transaction() as cookie:
        kept = dict(cookie)
    owner.post("/sign-out")
    thief = app.test_client()
    with thief.session_transaction() as cookie:
        cookie.update(kept)
    assert thief.get("/shop").location == "/sign-in?next=/shop"
    db.rollback()
    assert db.scalars(select(SignIn)).one().ended_at is not None


def test_signing_out_is_a_post(owner: FlaskClient) -> None:
    assert owner.get("/sign-out").status_code == 405


def test_signing_out_twice_asks_to_sign_in(owner: FlaskClient) -> None:
    owner.post("/sign-out")
    assert owner.post("/sign-out").status_code == 401
