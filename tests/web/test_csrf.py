"""Forms are only taken from our own pages: a token in each, and no other Origin."""

import re

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.shops.models import Equipment, Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database
PRESS = {"name": "Press", "count": "1"}


@pytest.fixture
def owner(app: Flask, db: Session, shop: Shop) -> FlaskClient:
    """An owner in whose browser forms need their token."""
    app.config["WTF_CSRF_ENABLED"] = True
    return factories.client_of(app, db, shop, "Ada")


def token(client: FlaskClient, path: str = "/shop/equipment") -> str:
    found = re.search(r'name="csrf_token" value="([^"]+)"', client.get(path).text)
    assert found
    return found[1]


def count(db: Session) -> int:
    factories.anew(db)
    return db.scalar(select(func.count(Equipment.id))) or 0


def test_a_form_of_our_own_page_is_taken(owner: FlaskClient, db: Session) -> None:
    assert owner.post("/shop/equipment", data=PRESS | {"csrf_token": token(owner)}).status_code == 303
    assert count(db) == 1


def test_without_a_token_nothing_is_stored_and_nothing_is_lost(owner: FlaskClient, db: Session) -> None:
    """SA10: the token is gone, but the text survives and one tap saves it."""
    page = owner.post("/shop/equipment", data=PRESS | {"note": "two\nlines & <b>"})
    assert page.status_code == 400
    assert count(db) == 0
    assert "This page had been open for a long time." in page.text
    assert "two\nlines &amp; &lt;b&gt;" in page.text
    assert 'action="/shop/equipment"' in page.text
    carried = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', page.text))
    assert (carried["name"], carried["count"]) == ("Press", "1")
    assert owner.post("/shop/equipment", data=carried).status_code == 303
    assert count(db) == 1


@pytest.mark.parametrize("wrong", ["", "x", "IjEyMyI.aaaa.bbbb"])
def test_a_wrong_token_is_none(owner: FlaskClient, db: Session, wrong: str) -> None:
    assert owner.post("/shop/equipment", data=PRESS | {"csrf_token": wrong}).status_code == 400
    assert count(db) == 0


def test_the_token_of_somebody_else_is_none(owner: FlaskClient, app: Flask, db: Session, shop: Shop) -> None:
    other = factories.client_of(app, db, shop, "Cora")
    assert owner.post("/shop/equipment", data=PRESS | {"csrf_token": token(other)}).status_code == 400
    assert count(db) == 0


def test_a_form_opened_in_the_morning_is_taken_in_the_afternoon(owner: FlaskClient, clock: Clock) -> None:
    """SA10: a form opened at 08:00 is sent at 15:30; tokens do not run out with the time."""
    opened = token(owner)
    clock.forward(hours=7, minutes=30)
    assert owner.application.config["WTF_CSRF_TIME_LIMIT"] is None
    assert owner.post("/shop/equipment", data=PRESS | {"csrf_token": opened}).status_code == 303


def test_a_password_is_never_carried_along(nobody: FlaskClient, app: Flask, db: Session) -> None:
    app.config["WTF_CSRF_ENABLED"] = True
    factories.person(db, "Ada")
    page = nobody.post("/sign-in", data={"name": "Ada", "password": "plane iron walnut"})
    assert page.status_code == 400
    assert "plane iron walnut" not in page.text
    assert '<input type="password" name="password"' in page.text


@pytest.mark.parametrize(
    "origin",
    ["https://evil.example", "http://localhost.evil.example", "null", "http://localhost:9999", "garbage", "http://["],
)
@pytest.mark.parametrize("path", ["/shop/equipment", "/sign-in", "/theme", "/start", "/sign-out"])
def test_another_origin_is_refused_whatever_else(owner: FlaskClient, db: Session, origin: str, path: str) -> None:
    data = PRESS | {"csrf_token": token(owner)}
    answer = owner.post(path, data=data, headers={"Origin": origin})
    assert answer.status_code == 403
    assert answer.location is None
    assert count(db) == 0
    assert owner.get("/shop").status_code == 200


def test_our_own_origin_is_taken(owner: FlaskClient) -> None:
    data = PRESS | {"csrf_token": token(owner)}
    assert owner.post("/shop/equipment", data=data, headers={"Origin": "http://localhost"}).status_code == 303


@pytest.mark.parametrize(
    "headers",
    [
        {"Referer": "https://evil.example/page"},
        {"Referer": "http://localhost.evil.example/"},
        {"Referer": "about:blank"},
        {"Origin": "http://localhost", "Referer": "https://evil.example/page"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_without_an_origin_whatever_else_names_another_site_counts(
    owner: FlaskClient, db: Session, headers: dict[str, str]
) -> None:
    answer = owner.post("/shop/equipment", data=PRESS | {"csrf_token": token(owner)}, headers=headers)
    assert (answer.status_code, count(db)) == (403, 0)


@pytest.mark.parametrize(
    "headers",
    [
        {},  # a program; browsers always say something
        {"Referer": "http://localhost/shop/equipment"},
        {"Origin": "http://localhost", "Referer": "http://localhost/shop", "Sec-Fetch-Site": "same-origin"},
        {"Sec-Fetch-Site": "none"},
    ],
)
def test_our_own_pages_are_known_by_any_of_them(owner: FlaskClient, headers: dict[str, str]) -> None:
    data = PRESS | {"csrf_token": token(owner)}
    assert owner.post("/shop/equipment", data=data, headers=headers).status_code == 303


def test_over_https_only_https_is_here(owner: FlaskClient, db: Session) -> None:
    """A page that somebody on the way slipped in over http has the same name."""
    data, https = PRESS | {"csrf_token": token(owner)}, "https://localhost"
    plain = {"Origin": "http://localhost"}
    assert owner.post("/shop/equipment", data=data, base_url=https, headers=plain).status_code == 403
    assert count(db) == 0


@pytest.mark.parametrize("headers", [{"Origin": "https://localhost"}, {}])
def test_over_https_a_browser_that_sends_no_referer_is_taken(owner: FlaskClient, headers: dict[str, str]) -> None:
    data = PRESS | {"csrf_token": token(owner)}
    answer = owner.post("/shop/equipment", data=data, base_url="https://localhost", headers=headers)
    assert answer.status_code == 303


def test_reading_needs_no_token_and_no_origin(owner: FlaskClient) -> None:
    assert owner.get("/shop", headers={"Origin": "https://evil.example"}).status_code == 200


def test_every_form_of_a_page_has_a_token(owner: FlaskClient) -> None:
    for path in ("/shop", "/shop/hours", "/shop/makers", "/sign-ins", "/password", "/start"):
        page = owner.get(path).text
        for form in re.findall(r'<form method="post".*?</form>', page, re.DOTALL):
            assert 'name="csrf_token"' in form, path
