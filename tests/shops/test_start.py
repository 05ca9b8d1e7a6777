"""Beginning a shop."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from webapp.people.models import Person
from webapp.shops.models import Maker, Shop
from webapp.shops.zones import here, is_zone

SHOP = {
    "maker": "Ada",
    "name": "Shavings",
    "time_zone": "Europe/Oslo",
    "currency": "NOK",
    "length_unit": "mm",
    "temperature_unit": "C",
}


def test_a_new_shop_has_what_a_shop_needs_and_its_hours_are_asked_next(nobody: FlaskClient, db: Session) -> None:
    answer = nobody.post("/start", data=SHOP)
    assert (answer.status_code, answer.location) == (303, "/shop/hours?next=/")
    factories.anew(db)
    shop = db.scalars(select(Shop)).one()
    assert (shop.name, shop.time_zone, shop.currency, shop.length_unit, shop.temperature_unit) == (
        "Shavings",
        "Europe/Oslo",
        "NOK",
        "mm",
        "C",
    )
    assert [(maker.name, maker.role) for maker in shop.makers] == [("Ada", "owner")]
    assert len(shop.openings) == 5
    assert len(shop.rooms) == 1


def test_sent_twice_there_is_one_shop(nobody: FlaskClient, db: Session) -> None:
    """SA15: a double tap begins one shop, and both taps get the same answer."""
    first = nobody.post("/start", data=SHOP | {"once": "k1"})
    again = nobody.post("/start", data=SHOP | {"once": "k1"})
    assert again.location == first.location
    factories.anew(db)
    assert db.scalar(select(func.count(Shop.id))) == 1


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"maker": " "}, "Your name, please."),
        ({"name": ""}, "The shop needs a name."),
        ({"name": "x" * 101}, "At most 100 characters"),
        ({"time_zone": "Europe/Atlantis"}, "Please choose one of these."),
        ({"currency": "XAU"}, "Please choose one of these."),
        ({"length_unit": "ell"}, "Please choose one of these."),
    ],
)
def test_what_is_wrong_comes_back_with_what_was_typed(
    nobody: FlaskClient, db: Session, wrong: dict[str, str], message: str
) -> None:
    page = nobody.post("/start", data=SHOP | {"name": "Kept as typed"} | wrong)
    assert page.status_code == 422
    assert message in page.text
    if "name" not in wrong:
        assert 'value="Kept as typed"' in page.text
    factories.anew(db)
    assert db.scalar(select(func.count(Person.id))) == 0


def test_who_is_signed_in_starts_another_shop_and_stands_in_it(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert owner.get("/start").status_code == 200
    owner.post("/start", data=SHOP)
    assert "Shavings" in owner.get("/shop").text
    factories.anew(db)
    assert db.scalar(select(func.count(Maker.id)).where(Maker.name == "Ada")) == 2
    assert db.scalar(select(func.count(Person.id))) == 1


def test_a_name_somebody_else_signs_in_by_is_not_taken(owner: FlaskClient, db: Session) -> None:
    factories.person(db, "Ben")
    page = owner.post("/start", data=SHOP | {"maker": "ben"})
    assert page.status_code == 422
    assert "has that name already" in page.text


def test_strangers_start_nothing(app: Flask, db: Session, shop: Shop) -> None:
    factories.person(db, "Ada")
    factories.person(db, "Ben")
    client = app.test_client()
    assert client.get("/start").location == "/sign-in?next=/start"
    assert client.post("/start", data=SHOP).status_code == 403


def test_a_maker_who_left_every_shop_is_offered_to_start_one(app: Flask, db: Session, shop: Shop) -> None:
    client = factories.client_of(app, db, shop, "Ada")
    factories.maker(db, shop, "Ada").left_on = shop.created_at.date()
    db.commit()
    assert client.get("/shop").location == "/start"
    assert client.get("/start").status_code == 200


def test_the_zone_of_this_computer_is_a_zone() -> None:
    assert is_zone(here())
    assert not is_zone("EST5EDT")
