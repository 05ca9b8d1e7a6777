"""Signing in with name and password."""

import re

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.people.brake import TRIES
from webapp.people.models import LoginTry, Person, SignIn
from webapp.shops.models import Shop

WORDS = "plane iron walnut"


@pytest.fixture
def ada(db: Session, shop: Shop) -> Person:
    factories.maker(db, shop, "Ada")
    return factories.give_password(db, "Ada", WORDS)


def sign_in(client: FlaskClient, name: str = "Ada", password: str = WORDS, **more: str) -> int:
    return client.post("/sign-in", data={"name": name, "password": password, **more}).status_code


def test_the_right_password_lets_in_and_leads_on(nobody: FlaskClient, ada: Person) -> None:
    asked = nobody.get("/shop")
    assert asked.location == "/sign-in?next=/shop"
    assert 'value="/shop"' in nobody.get(asked.location).text
    answer = nobody.post("/sign-in", data={"name": "Ada", "password": WORDS, "next": "/shop"})
    assert (answer.status_code, answer.location) == (303, "/shop")
    assert nobody.get("/shop").status_code == 200


def test_case_and_accents_of_the_name_do_not_count(nobody: FlaskClient, ada: Person) -> None:
    assert sign_in(nobody, "  ÁDA ") == 303


def test_blanks_round_a_password_do_not_count(nobody: FlaskClient, ada: Person) -> None:
    assert sign_in(nobody, password=f" {WORDS} ") == 303


@pytest.mark.parametrize(("name", "password"), [("Ada", "plane iron"), ("Nobody", WORDS)])
def test_wrong_name_and_wrong_password_get_the_same_answer(
    nobody: FlaskClient, ada: Person, name: str, password: str
) -> None:
    page = nobody.post("/sign-in", data={"name": name, "password": password})
    assert page.status_code == 422
    assert "Name or password is not right" in page.text
    assert f'value="{name}"' in page.text
    assert password not in page.text


@pytest.mark.parametrize(("field", "message"), [("name", "Your name, please."), ("password", "Your password, please.")])
def test_an_empty_field_is_asked_for(nobody: FlaskClient, ada: Person, field: str, message: str) -> None:
    page = nobody.post("/sign-in", data={"name": "Ada", "password": WORDS, field: ""})
    assert page.status_code == 422
    assert message in page.text


def test_an_account_without_a_password_cannot_be_signed_in_to(nobody: FlaskClient, db: Session, ada: Person) -> None:
    ben = factories.person(db, "Ben")
    ben.password_hash = None
    db.commit()
    assert sign_in(nobody, "Ben", "") == 422
    assert sign_in(nobody, "Ben", "None") == 422


@pytest.mark.parametrize(
    "way",
    [
        "//evil.example",
        "https://evil.example",
        "/\\evil.example",
        "\\\\evil.example",
        "/\t/evil.example",
        "javascript:1",
        "evil",
    ],
)
def test_the_way_on_never_leads_off_this_server(nobody: FlaskClient, ada: Person, way: str) -> None:
    answer = nobody.post("/sign-in", data={"name": "Ada", "password": WORDS, "next": way})
    assert answer.location == "/"
    assert nobody.get("/sign-in", query_string={"next": way}).location == "/"


def test_too_many_tries_for_a_name_are_braked(
    nobody: FlaskClient, app: Flask, ada: Person, clock: Clock, db: Session
) -> None:
    for _ in range(TRIES):
        assert sign_in(nobody, password="guess") == 422
    page = app.test_client().post(
        "/sign-in", data={"name": "Ada", "password": WORDS}, environ_overrides={"REMOTE_ADDR": "127.0.0.2"}
    )
    assert page.status_code == 429
    assert "Wait ten minutes" in page.text
    assert 'value="Ada"' in page.text
    clock.forward(minutes=10, seconds=1)
    assert sign_in(nobody) == 303
    db.rollback()
    assert db.scalar(select(func.count(LoginTry.id))) == 0


def test_too_many_tries_from_an_address_are_braked_under_any_name(nobody: FlaskClient, ada: Person) -> None:
    for number in range(TRIES):
        assert sign_in(nobody, f"guess {number}", "guess") == 422
    assert sign_in(nobody) == 429


def test_seven_tries_are_forgiven(nobody: FlaskClient, ada: Person) -> None:
    for _ in range(TRIES - 1):
        sign_in(nobody, password="guess")
    assert sign_in(nobody) == 303


def test_only_a_hash_of_the_token_is_stored(nobody: FlaskClient, ada: Person, db: Session) -> None:
    sign_in(nobody)
    db.rollback()
    row = db.scalars(select(SignIn)).one()
    with nobody.session_transaction() as cookie:
        assert cookie["sign_in"] != row.token_hash
    assert len(row.token_hash) == 64


def test_a_sign_in_brings_a_cookie_of_its_own(nobody: FlaskClient, ada: Person) -> None:
    """A cookie that was planted before is not taken over into the sign-in."""
    with nobody.session_transaction() as cookie:
        cookie["shop"] = 99
        cookie["sign_in"] = "planted"
    sign_in(nobody)
    with nobody.session_transaction() as cookie:
        assert cookie["sign_in"] != "planted"
        assert "shop" not in cookie


@pytest.mark.parametrize(("scheme", "secure"), [("http", False), ("https", True)])
def test_the_cookie_is_secure_on_https_and_works_on_plain_http(
    nobody: FlaskClient, ada: Person, scheme: str, secure: bool
) -> None:
    """SA11: browsers drop a Secure cookie on the shop's plain network, and signing in would go round in circles."""
    answer = nobody.post("/sign-in", data={"name": "Ada", "password": WORDS}, base_url=f"{scheme}://localhost")
    cookie = answer.headers["Set-Cookie"]
    assert ("Secure" in cookie) == secure
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert nobody.get("/shop", base_url=f"{scheme}://localhost").status_code == 200


def test_who_is_in_is_not_asked_again(owner: FlaskClient) -> None:
    assert owner.get("/sign-in", query_string={"next": "/shop"}).location == "/shop"


def test_a_sign_in_lasts_while_it_is_used(nobody: FlaskClient, ada: Person, clock: Clock) -> None:
    sign_in(nobody)
    clock.forward(days=390)
    assert nobody.get("/shop").status_code == 200
    clock.forward(days=390)
    assert nobody.get("/shop").status_code == 200
    clock.forward(days=401)
    assert nobody.get("/shop").location == "/sign-in?next=/shop"


def test_typing_before_signing_in_is_carried_on(nobody: FlaskClient, ada: Person, db: Session, shop: Shop) -> None:
    """SA10: the sign-in ran out while a form stood open; the text survives, and one tap saves it."""
    typed = {"name": "Long clamps", "count": "8", "once": "k1"}
    first = nobody.post("/shop/equipment", data=typed)
    assert first.status_code == 401
    assert "Long clamps" in first.text
    second = nobody.post("/sign-in", data=fields(first.text) | {"name": "Ada", "password": "wrong wrong wrong"})
    assert second.status_code == 422
    third = nobody.post("/sign-in", data=fields(second.text) | {"name": "Ada", "password": WORDS})
    assert third.status_code == 200
    assert 'action="/shop/equipment"' in third.text
    last = nobody.post("/shop/equipment", data=fields(third.text))
    assert last.status_code == 303
    db.rollback()
    assert [(row.name, row.count) for row in db.get_one(Shop, shop.id).equipment] == [("Long clamps", 8)]


def test_a_carried_form_goes_nowhere_else(nobody: FlaskClient, ada: Person) -> None:
    page = nobody.post(
        "/sign-in",
        data={
            "name": "Ada",
            "password": WORDS,
            "resend_to": "//evil.example/take",
            "carried": '{"typed": [], "had_files": false}',
        },
    )
    assert 'action="/"' in page.text
    assert "evil" not in page.text


@pytest.mark.parametrize("carried", ["{", "[]", '{"typed": 3}', '{"typed": [["a"]], "had_files": 1}', "null"])
def test_a_carried_form_that_cannot_be_read_does_no_harm(nobody: FlaskClient, ada: Person, carried: str) -> None:
    assert sign_in(nobody, resend_to="/shop", carried=carried) == 200


def fields(page: str) -> dict[str, str]:
    """The hidden fields of a page's form."""
    found = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', page)
    return {name: value.replace("&#34;", '"').replace("&amp;", "&") for name, value in found}
