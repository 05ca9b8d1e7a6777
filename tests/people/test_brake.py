"""The brake on guessing passwords, and that a stranger cannot use it to keep somebody out."""

import statistics
import time

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.people import actions as people
from webapp.people import brake
from webapp.people.brake import TRIES
from webapp.people.models import LoginTry, Person
from webapp.shops.models import Shop

WORDS = "plane iron walnut"


@pytest.fixture
def ada(db: Session, shop: Shop) -> Person:
    factories.maker(db, shop, "Ada")
    return factories.give_password(db, "Ada", WORDS)


def knock(client: FlaskClient, password: str = WORDS, name: str = "Ada", address: str = "192.0.2.1") -> int:
    where = {"REMOTE_ADDR": address}
    return client.post("/sign-in", data={"name": name, "password": password}, environ_overrides=where).status_code


def guess(app: Flask, count: int = TRIES, name: str = "Ada", address: str = "192.0.2.66") -> list[int]:
    return [knock(app.test_client(), "guess guess", name, address) for _ in range(count)]


@pytest.mark.parametrize(
    ("address", "counted_under"),
    [
        ("192.168.1.20", "192.168.1.20"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2::9", "2001:db8:1:2::/64"),
        ("::ffff:192.168.1.20", "192.168.1.20"),
        ("fe80::1%eth0", "fe80::/64"),
        ("::1", "::/64"),
        ("", ""),
        (None, ""),
        ("unix:", "unix:"),
    ],
)
def test_an_address_is_counted_as_its_network(address: str | None, counted_under: str) -> None:
    """RFC 4291 and RFC 6177, from memory: a subscriber has 64 bits of IPv6 to choose an address from."""
    assert brake.place(address) == counted_under


def test_another_address_of_the_same_ipv6_network_does_not_help(app: Flask, ada: Person) -> None:
    found = [knock(app.test_client(), "guess", f"nobody {n}", f"2001:db8:1:2::{n:x}") for n in range(TRIES)]
    assert found == [422] * TRIES
    assert knock(app.test_client(), address="2001:db8:1:2:ffff::1") == 429
    assert knock(app.test_client(), address="2001:db8:1:3::1") == 303


def test_a_stranger_who_guesses_keeps_nobody_out_of_a_device_they_know(app: Flask, ada: Person) -> None:
    """Neither from elsewhere on the network, nor from behind the same proxy or router."""
    phone = app.test_client()
    assert knock(phone, address="192.0.2.66") == 303
    phone.post("/sign-out")
    assert set(guess(app)) == {422}
    assert guess(app, 1) == [429]
    assert knock(app.test_client()) == 429
    assert knock(phone, address="192.0.2.66") == 303


def test_a_known_device_may_not_guess_for_ever(app: Flask, ada: Person, clock: Clock) -> None:
    phone = app.test_client()
    assert knock(phone) == 303
    phone.post("/sign-out")
    assert [knock(phone, "guess guess") for _ in range(TRIES)] == [422] * TRIES
    assert knock(phone) == 429
    clock.forward(minutes=10, seconds=1)
    assert knock(phone) == 303


def test_a_device_is_known_for_those_who_signed_in_on_it_only(app: Flask, ada: Person, db: Session, shop: Shop) -> None:
    """Who has an account of their own guesses no longer than others at somebody else's."""
    factories.maker(db, shop, "Cleo")
    factories.give_password(db, "Cleo", WORDS)
    tablet = app.test_client()
    assert knock(tablet, name="Cleo") == 303
    tablet.post("/sign-out")
    assert [knock(tablet, "guess guess") for _ in range(TRIES)] == [422] * TRIES
    assert knock(tablet, "guess guess", address="192.0.2.2") == 429
    assert knock(tablet, name="Cleo") == 303


def test_a_shared_device_is_known_for_each_of_its_people(app: Flask, ada: Person, db: Session, shop: Shop) -> None:
    tablet, names = app.test_client(), [f"Maker {number}" for number in range(brake.KNOWN)]
    for name in names:
        factories.maker(db, shop, name)
        factories.give_password(db, name, WORDS)
        assert knock(tablet, name=name) == 303
        tablet.post("/sign-out")
    with tablet.session_transaction() as cookie:
        assert len(cookie["known"]) == brake.KNOWN
    assert knock(tablet) == 303
    with tablet.session_transaction() as cookie:
        assert len(cookie["known"]) == brake.KNOWN  # the first of them is a stranger again
    tablet.post("/sign-out")
    guess(app, name=names[1])
    assert knock(tablet, name=names[1]) == 303


def test_what_a_browser_makes_up_makes_no_device_known(app: Flask, ada: Person) -> None:
    guess(app)
    client = app.test_client()
    client.set_cookie("benchtide", "eyJkZXZpY2UiOiJ4Iiwia25vd24iOlsxXX0.aaaaaa.bbbbbbbbbbbbbbbbbbbbbbbbbbb")
    assert knock(client) == 429


def test_who_is_in_can_change_the_password_while_a_stranger_guesses(app: Flask, ada: Person) -> None:
    phone = app.test_client()
    knock(phone)
    guess(app)
    new = {"old_password": WORDS, "password": "rabbet block maple", "password_again": "rabbet block maple"}
    assert phone.post("/password", data=new).status_code == 303


def test_tries_do_not_grow_without_bound(
    app: Flask, ada: Person, db: Session, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(brake, "MOST", 20)
    for number in range(30):
        guess(app, 1, f"nobody {number}", f"198.51.100.{number}")
    guess(app, 2 * TRIES, "the same")  # what is braked is not even noted
    factories.anew(db)
    assert db.scalar(select(func.count(LoginTry.id))) == 20
    clock.forward(days=1, minutes=1)
    guess(app, 1)
    factories.anew(db)
    assert db.scalar(select(func.count(LoginTry.id))) == 1


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_an_unknown_name_takes_as_long_as_a_known_one(app: Flask, db: Session, shop: Shop) -> None:
    """Roughly: with the real hash, of which one comparison takes most of the time there is to see."""
    app.config["PASSWORD_METHOD"] = "scrypt"
    factories.maker(db, shop, "Ada")
    with app.app_context():
        people.set_password(factories.person(db, "Ada"), WORDS)
    db.commit()
    took: dict[str, list[float]] = {"Ada": [], "Zoe": []}
    for turn in range(4):
        for name, times in took.items():
            began = time.process_time()
            assert knock(app.test_client(), "guess guess", name, f"198.51.100.{turn}") == 422
            times.append(time.process_time() - began)
    known, unknown = (statistics.median(times[1:]) for times in took.values())
    assert 0.5 < known / unknown < 2
