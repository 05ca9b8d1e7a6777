"""The cookie that carries a sign-in."""

import secrets

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database
BROWSERS_TAKE = 4096  # RFC 6265, 6.1: name, value and attributes of one cookie, at least; no browser takes more


def cookie_of(client: FlaskClient) -> str:
    found = client.get_cookie("benchtide")
    assert found is not None
    return found.value


def test_messages_that_no_page_has_shown_do_not_burst_the_cookie(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """Forty verbs from a script, or from tabs left open: a browser would drop the cookie and keep the one before."""
    build = factories.build(db, shop)
    for number in range(40):
        way_back = f"/builds?q={secrets.token_hex(200)}"  # what repeats itself is stored in little room
        answer = owner.post(f"/builds/{build.id}/note", data={"note": f"No. {number}", "next": way_back})
        assert answer.status_code == 303
        assert len(answer.headers["Set-Cookie"]) < BROWSERS_TAKE
    page = owner.get("/builds").text
    assert 1 <= page.count('class="said"') < 40
    assert 'class="said"' not in owner.get("/builds").text
    assert owner.get("/shop").status_code == 200


def test_one_message_that_is_too_long_is_dropped_and_the_sign_in_stays(owner: FlaskClient) -> None:
    noise = "".join(chr(0x4E00 + (7919 * number) % 20_000) for number in range(1500))
    with owner.session_transaction() as cookie:
        cookie["_flashes"] = [("message", noise)]
    assert len(cookie_of(owner)) < BROWSERS_TAKE
    assert owner.get("/shop").status_code == 200


def test_the_cookie_says_for_what_it_is(owner: FlaskClient) -> None:
    """SA11: for this server and all of it, out of reach for scripts and for posts from other sites."""
    parts = owner.get("/shop").headers["Set-Cookie"].split("; ")
    assert parts[0].startswith("benchtide=")
    assert {"HttpOnly", "Path=/", "SameSite=Lax"} <= set(parts)
    assert not [part for part in parts if part.startswith("Domain")]
