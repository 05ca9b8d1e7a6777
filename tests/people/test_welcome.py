"""The very first visitor: who becomes the owner without a password, and who does not."""

from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.app import create_app
from webapp.people.models import Person
from webapp.settings import Settings

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database
SHOP = {
    "maker": "Ada",
    "name": "Shavings",
    "time_zone": "America/New_York",
    "currency": "USD",
    "length_unit": "in",
    "temperature_unit": "F",
}


def test_the_first_page_welcomes_where_nobody_has_an_account(nobody: FlaskClient) -> None:
    page = nobody.get("/", follow_redirects=True)
    assert page.request.path == "/welcome"
    assert "Start my own shop" in page.text


def test_welcome_leads_on_once_there_is_an_account(nobody: FlaskClient, db: Session) -> None:
    factories.person(db, "Ada")
    assert nobody.get("/welcome").location == "/"


def test_the_invented_shop_is_offered_only_where_there_is_one(app: Flask) -> None:
    offered = "Look round an invented shop" in app.test_client().get("/welcome").text
    assert offered == ("invented.create" in app.view_functions)


def test_the_first_visitor_on_this_computer_becomes_the_owner(nobody: FlaskClient, db: Session) -> None:
    answer = nobody.post("/start", data=SHOP)
    assert answer.status_code == 303
    db.rollback()
    assert db.scalars(select(Person)).one().password_hash is None
    assert nobody.get("/shop").status_code == 200


@pytest.mark.parametrize(
    "header", ["X-Forwarded-For", "X-Forwarded-Proto", "X-Forwarded-Server", "Forwarded", "Via", "X-Real-IP", "CF-Ray"]
)
def test_a_forwarding_header_asks_for_a_sign_in(nobody: FlaskClient, db: Session, header: str) -> None:
    """SA11: whoever comes through something in between does not sit at this computer."""
    assert nobody.post("/start", data=SHOP, headers={header: "127.0.0.1"}).status_code == 403
    page = nobody.get("/welcome", headers={header: "127.0.0.1"})
    assert "Start my own shop" not in page.text
    assert "account add" in page.text
    assert db.scalar(select(func.count(Person.id))) == 0


def test_a_proxy_that_adds_no_header_speaks_http_1_0_and_is_known_by_it(nobody: FlaskClient) -> None:
    assert nobody.post("/start", data=SHOP, environ_overrides={"SERVER_PROTOCOL": "HTTP/1.0"}).status_code == 403


def test_another_address_asks_for_a_sign_in(nobody: FlaskClient) -> None:
    assert nobody.post("/start", data=SHOP, environ_overrides={"REMOTE_ADDR": "192.168.1.20"}).status_code == 403


@pytest.mark.parametrize("change", [{"host": "0.0.0.0"}, {"proxies": 1}])
def test_a_server_that_others_can_reach_lets_nobody_in_without_a_password(
    settings: Settings, engine: Engine, clock: Clock, change: dict[str, object]
) -> None:
    app = create_app(replace(settings, trusted_hosts=("localhost",), **change), engine=engine, now=clock)
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    client = app.test_client()
    assert client.post("/start", data=SHOP).status_code == 403
    assert "Start my own shop" not in client.get("/welcome").text


@pytest.mark.parametrize("name", ["evil.example", "127.0.0.1.evil.example", "192.168.1.20"])
def test_a_name_that_is_not_ours_gets_400(nobody: FlaskClient, name: str) -> None:
    """SA11: a name that somebody else made to point at this computer is not answered."""
    page = nobody.get("/welcome", base_url=f"http://{name}")
    assert page.status_code == 400
    assert "Start my own shop" not in page.text
    assert nobody.post("/start", data=SHOP, base_url=f"http://{name}").status_code == 400


def test_the_owner_without_a_password_is_let_in_on_this_computer_only(nobody: FlaskClient, app: Flask) -> None:
    nobody.post("/start", data=SHOP)
    assert app.test_client().get("/shop").status_code == 200
    elsewhere = app.test_client().get("/shop", headers={"X-Forwarded-For": "203.0.113.9"})
    assert elsewhere.location == "/sign-in?next=/shop"


def test_a_second_account_ends_coming_in_without_a_password(nobody: FlaskClient, app: Flask, db: Session) -> None:
    nobody.post("/start", data=SHOP)
    factories.person(db, "Ben")
    assert app.test_client().get("/shop").location == "/sign-in?next=/shop"


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
@pytest.mark.parametrize(("loaded_as", "status"), [("image", 303), ("iframe", 303), ("empty", 303), ("document", 200)])
def test_a_page_of_another_site_is_not_let_in_without_a_password(
    nobody: FlaskClient, app: Flask, site: str, loaded_as: str, status: int
) -> None:
    """Its pictures and frames are asked for from this very computer too; who follows a link comes in."""
    nobody.post("/start", data=SHOP)
    headers = {"Sec-Fetch-Site": site, "Sec-Fetch-Dest": loaded_as}
    assert app.test_client().get("/shop", headers=headers).status_code == status
