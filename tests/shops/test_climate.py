"""The usual air of the shop."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop

GOOD = {"climate_day": "64.4", "climate_night": "50", "day_from": "6:30", "day_to": "24:00", "humidity": "40"}


def version(client: FlaskClient) -> str:
    found = re.search(r'name="version" value="(\w+)"', client.get("/shop/climate").text)
    assert found
    return found[1]


def test_it_is_set_in_the_unit_of_the_shop_and_kept_in_celsius(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert owner.post("/shop/climate", data=GOOD | {"version": version(owner)}).status_code == 303
    factories.anew(db)
    assert (shop.climate_day, shop.climate_night) == pytest.approx((18, 10))  # (64.4 - 32) * 5 / 9
    assert (shop.day_from, shop.day_to, shop.humidity) == (390, 1440, 40)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"climate_day": ""}, "How warm by day?"),
        ({"climate_night": "900"}, "cannot be right"),
        ({"day_to": "6:30"}, "The night begins after the day does."),
        ({"humidity": "400"}, "From 0 to 100 %"),
    ],
)
def test_what_is_wrong_comes_back(owner: FlaskClient, typed: dict[str, str], message: str) -> None:
    page = owner.post("/shop/climate", data=GOOD | {"version": version(owner)} | typed)
    assert page.status_code == 422
    assert message in page.text
    assert 'value="64.4"' in page.text or "64.4" in typed.values() or "climate_day" in typed


def test_the_second_of_two_is_told(owner: FlaskClient) -> None:
    """SA09: two set the climate at once."""
    old = version(owner)
    assert owner.post("/shop/climate", data=GOOD | {"version": old}).status_code == 303
    page = owner.post("/shop/climate", data=GOOD | {"version": old, "humidity": "60"})
    assert page.status_code == 409
    assert "<td>40</td><td>60</td>" in page.text


def test_a_stranger_sets_only_their_own(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    assert stranger.post("/shop/climate", data=GOOD | {"version": version(stranger)}).status_code == 303
    factories.anew(db)
    assert shop.humidity == 50
