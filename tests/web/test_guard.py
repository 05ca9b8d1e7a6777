"""The guard: closed unless marked otherwise, one loader, and what comes from outside is not believed."""

from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.app import create_app
from webapp.people.models import LoginTry, SignIn
from webapp.settings import Settings
from webapp.shops.models import Equipment, Shop
from webapp.web import guard

NAME = "shop.example"


@pytest.fixture
def app(settings: Settings, engine: Engine, clock: Clock) -> Flask:
    """An app of its own: these tests lay routes."""
    found = create_app(settings, engine=engine, now=clock)
    found.config.update(TESTING=True, WTF_CSRF_ENABLED=False, PASSWORD_METHOD="pbkdf2:sha256:1")
    return found


@pytest.fixture
def proxied(settings: Settings, engine: Engine, clock: Clock) -> Flask:
    """The app behind one proxy that speaks https to the world."""
    found = create_app(replace(settings, proxies=1, trusted_hosts=(NAME, "127.0.0.1")), engine=engine, now=clock)
    found.config.update(TESTING=True, WTF_CSRF_ENABLED=False, PASSWORD_METHOD="pbkdf2:sha256:1")
    return found


@pytest.fixture
def account(db: Session, shop: Shop) -> None:
    factories.maker(db, shop, "Ada")
    factories.give_password(db, "Ada", "plane iron walnut")


SIGN_IN = {"name": "Ada", "password": "plane iron walnut"}
FORWARDED = {"X-Forwarded-For": "203.0.113.9", "X-Forwarded-Proto": "https", "X-Forwarded-Host": NAME}


def test_a_view_without_a_mark_is_for_makers_of_the_shop(app: Flask) -> None:
    app.add_url_rule("/unmarked", "unmarked", lambda: "secret")
    with app.app_context():
        assert guard.access_of("unmarked") == guard.HELPER
    assert app.test_client().get("/unmarked").status_code == 303


@pytest.mark.parametrize(
    ("who", "answers"),
    [("nobody", [200, 303, 303, 303]), ("helper", [200, 200, 200, 403]), ("owner", [200, 200, 200, 200])],
)
def test_each_mark_lets_in_whom_it_says(
    app: Flask,
    request: pytest.FixtureRequest,
    shop: Shop,
    db: Session,
    who: str,
    answers: list[int],
) -> None:
    factories.person(db, "Zoe")
    marks = {"public": guard.public, "signed-in": guard.signed_in, "maker": lambda view: view, "owner": guard.owner}
    for name, mark in marks.items():
        app.add_url_rule(f"/{name}", name, mark(lambda: "in"))
    client = request.getfixturevalue(who)
    assert [client.get(f"/{name}").status_code for name in marks] == answers


def test_who_is_not_in_is_asked_and_led_back(nobody: FlaskClient, account: None) -> None:
    assert nobody.get("/shop/readings?page=2").location == "/sign-in?next=/shop/readings?page%3D2"


def test_an_unknown_address_says_nothing_about_who_is_asking(nobody: FlaskClient, owner: FlaskClient) -> None:
    assert nobody.get("/no/such/page").status_code == 404
    assert owner.get("/no/such/page").status_code == 404


def test_what_belongs_to_another_shop_does_not_exist(
    owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    row = Equipment(shop_id=shop.id, name="Press", count=1)
    db.add(row)
    db.commit()
    assert owner.get(f"/shop/equipment/{row.id}").status_code == 200
    theirs, none = stranger.get(f"/shop/equipment/{row.id}"), stranger.get("/shop/equipment/999999")
    assert theirs.status_code == none.status_code == 404
    assert theirs.text.split("<main")[1].split("</main>")[0] == none.text.split("<main")[1].split("</main>")[0]


@pytest.mark.parametrize("key", ["99999999999999999999", "-1", "x", "1 or 1=1"])
def test_an_id_that_is_none_is_404(owner: FlaskClient, key: str) -> None:
    assert owner.get(f"/shop/equipment/{key}").status_code == 404


def test_a_sign_in_that_was_ended_works_no_more(owner: FlaskClient, db: Session, clock: Clock) -> None:
    assert owner.get("/shop").status_code == 200
    factories.anew(db)
    db.scalars(select(SignIn)).one().ended_at = clock.moment
    db.commit()
    assert owner.get("/shop").location == "/sign-in?next=/shop"


def test_a_role_counts_with_the_next_request(helper: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben")
    statuses = []
    for change in ({"role": guard.OWNER}, {"role": guard.HELPER}, {"left_on": shop.created_at.date()}):
        for name, value in change.items():
            setattr(ben, name, value)
        db.commit()
        statuses.append((helper.get("/shop").status_code, helper.get("/builds").status_code))
        factories.anew(db)
    assert statuses == [(200, 200), (403, 200), (303, 303)]


@pytest.mark.parametrize("token", ["", "x", "token-0", 7, None])
def test_a_made_up_token_is_nobody(nobody: FlaskClient, account: None, token: object) -> None:
    with nobody.session_transaction() as cookie:
        cookie["sign_in"] = token
    assert nobody.get("/shop").status_code == 303


def test_headers_forged_from_outside_do_nothing(app: Flask, account: None, db: Session) -> None:
    """SA11: without a proxy that was named in the settings, nobody is believed about who or where they are."""
    client = app.test_client()
    answer = client.post("/sign-in", data=SIGN_IN, headers=FORWARDED)
    assert "Secure" not in answer.headers["Set-Cookie"]
    app.test_client().post("/sign-in", data={"name": "Ada", "password": "guess"}, headers=FORWARDED)
    factories.anew(db)
    assert db.scalars(select(LoginTry.address)).all() == ["127.0.0.1"]
    assert client.get("/shop", headers={"X-Forwarded-Host": "evil.example"}).status_code == 200
    assert "evil.example" not in client.get("/shop", headers={"X-Forwarded-Host": "evil.example"}).text


def test_behind_a_proxy_of_the_settings_the_visitor_is_known(proxied: Flask, account: None, db: Session) -> None:
    """SA11: the cookie is Secure, the address is the visitor's, and the Origin of the outer name is ours."""
    client = proxied.test_client()
    headers = {**FORWARDED, "Origin": f"https://{NAME}"}
    client.post("/sign-in", data={"name": "Ada", "password": "guess"}, headers=headers)
    factories.anew(db)
    assert db.scalars(select(LoginTry.address)).all() == ["203.0.113.9"]
    answer = client.post("/sign-in", data=SIGN_IN, headers=headers)
    assert answer.status_code == 303
    assert "Secure" in answer.headers["Set-Cookie"]


def test_behind_a_proxy_only_the_nearest_one_is_believed(proxied: Flask, account: None, db: Session) -> None:
    """SA11: what a visitor puts into the header himself stands before what the proxy adds."""
    headers = {**FORWARDED, "X-Forwarded-For": "198.51.100.1, 203.0.113.9"}
    proxied.test_client().post("/sign-in", data={"name": "Ada", "password": "guess"}, headers=headers)
    factories.anew(db)
    assert db.scalars(select(LoginTry.address)).all() == ["203.0.113.9"]


def test_behind_a_proxy_strange_names_get_400(proxied: Flask, account: None) -> None:
    answer = proxied.test_client().get("/sign-in", headers={**FORWARDED, "X-Forwarded-Host": "evil.example"})
    assert answer.status_code == 400


@pytest.mark.parametrize("name", ["evil.example", "localhost.evil.example", "[::1]"])
def test_strange_names_get_400_before_anything_else(owner: FlaskClient, name: str) -> None:
    answer = owner.get("/shop", base_url=f"http://{name}")
    assert answer.status_code == 400
    assert "BENCHTIDE_TRUSTED_HOSTS" in answer.text


def test_private_pages_are_kept_out_of_caches(owner: FlaskClient) -> None:
    """SA14: after signing out, going back must ask the server."""
    assert owner.get("/shop").headers["Cache-Control"] == "no-store"
    assert "default-src 'none'" in owner.get("/shop").headers["Content-Security-Policy"]


def test_a_page_that_is_not_there_still_shows_the_ways_on(owner: FlaskClient, nobody: FlaskClient) -> None:
    answer = owner.get("/no-such-page")
    assert answer.status_code == 404
    assert 'href="/days"' in answer.text
    assert 'href="/days"' not in nobody.get("/no-such-page").text
