"""Name, place and units."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop

GOOD = {"time_zone": "America/Chicago", "currency": "CAD", "length_unit": "mm", "temperature_unit": "C"}


def version(client: FlaskClient) -> str:
    found = re.search(r'name="version" value="(\w+)"', client.get("/shop/details").text)
    assert found
    return found[1]


def test_they_are_changed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    answer = owner.post("/shop/details", data=GOOD | {"name": "Corner Shop", "version": version(owner)})
    assert (answer.status_code, answer.location) == (303, "/shop")
    factories.anew(db)
    assert (shop.name, shop.time_zone, shop.currency) == ("Corner Shop", "America/Chicago", "CAD")
    assert "20 °C by day" in owner.get("/shop").text


@pytest.mark.parametrize("wrong", [{"name": ""}, {"time_zone": "Mars/Base"}, {"currency": "dollars"}])
def test_what_is_wrong_comes_back_with_what_was_typed(
    owner: FlaskClient, db: Session, shop: Shop, wrong: dict[str, str]
) -> None:
    page = owner.post("/shop/details", data=GOOD | {"name": "Corner Shop", "version": version(owner)} | wrong)
    assert page.status_code == 422
    assert '<option selected value="mm">' in page.text
    factories.anew(db)
    assert shop.currency == "USD"


def test_a_currency_with_other_decimals_is_refused(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """12.50 is stored as 1250: in a currency without decimals it would be shown as 1,250."""
    page = owner.post("/shop/details", data=GOOD | {"name": "x", "currency": "JPY", "version": version(owner)})
    assert page.status_code == 422
    assert "Start another shop for JPY" in page.text


def test_the_second_of_two_is_told_sees_both_and_decides(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: two have the same form open; the second saves against an old version, is told, and loses nothing typed."""
    old = version(owner)
    owner.post("/shop/details", data=GOOD | {"name": "Theirs", "version": old})
    page = owner.post("/shop/details", data=GOOD | {"name": "Mine", "version": old})
    assert page.status_code == 409
    assert "Theirs" in page.text
    assert 'value="Mine"' in page.text
    factories.anew(db)
    assert shop.name == "Theirs"
    renewed = re.search(r'name="version" value="(\w+)"', page.text)
    assert renewed
    assert owner.post("/shop/details", data=GOOD | {"name": "Mine", "version": renewed[1]}).status_code == 303
    factories.anew(db)
    assert shop.name == "Mine"


def test_a_change_of_the_climate_is_no_clash_with_a_new_name(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: only what both have changed is worth asking about."""
    old = version(owner)
    shop.climate_day = 25.0
    db.commit()
    assert owner.post("/shop/details", data=GOOD | {"name": "Mine", "version": old}).status_code == 303


def test_an_old_version_is_no_way_round_the_question(owner: FlaskClient) -> None:
    assert owner.post("/shop/details", data=GOOD | {"name": "Mine"}).status_code == 409
