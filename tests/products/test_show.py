"""A product's page."""

from datetime import UTC, datetime

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.products.typed import product
from webapp.products.actions import seed
from webapp.products.models import Product
from webapp.shops.models import Shop


def seeded(db: Session, shop: Shop, name: str) -> int:
    seed(db, shop, datetime(2026, 2, 3, tzinfo=UTC))
    db.commit()
    return db.scalars(select(Product.id).where(Product.name == name)).one()


def test_every_figure_is_said_in_the_shops_degrees(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA03: out of clamps and ready to plane are two ends. TA04: open time. TA01: the rule for the cold."""
    page = owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}").text
    for text in (
        '<th scope="row">Out of clamps</th><td>1 h</td>',
        '<th scope="row">Ready to plane</th><td>7 days, no known rule for the cold: test it</td>',
        "10 min from the first glue to the last clamp",
        "twice as long for each 15 °F",
        "50 °F, and not for 24 h after; it would not hold",
        "30 min after the work, begun within 30 min; takes 10 min",
        "usually D2 (EN 204): inside, now and then a little water",
    ):
        assert text in page


def test_a_shop_in_celsius_reads_celsius(app: object, db: Session, owner: FlaskClient, shop: Shop) -> None:
    key = seeded(db, shop, "yellow PVA")
    db.get_one(Shop, shop.id).temperature_unit = "C"
    db.commit()
    page = owner.get(f"/products/{key}").text
    assert "twice as long for each 8.3 °C" in page
    assert "21.1 °C" in page


def test_a_layer_over_another_and_the_windows_are_said(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA06: over oil and stain other waits hold. TA05: a closed time between two windows."""
    page = owner.get(f"/products/{seeded(db, shop, 'waterborne polyurethane')}").text
    assert '<th scope="row">Over oil</th><td>from 14 days on</td>' in page
    assert "from 4 h to 24 h, or from 24 h on, sanded" in page
    assert "scuffed first" in page


def test_its_source_and_date_stand_beside_it(owner: FlaskClient, db: Session, shop: Shop) -> None:
    page = owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}").text
    assert "woodmagazine.com/glues/give-the-glue-time" in page
    assert "25 November 2026" in page


def test_oily_rags_are_warned_of(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA07: an oil's page warns; the same family's cautions hold for a product of one's own."""
    assert "Oily rags can catch fire" in owner.get(f"/products/{seeded(db, shop, 'pure tung oil')}").text
    own = factories.product(db, shop, "our own oil", use="finish")
    own.family = "oil"
    db.commit()
    assert "Oily rags can catch fire" in owner.get(f"/products/{own.id}").text


def test_nights_too_cold_for_it_are_said(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA02b: warned of before the work where the usual night is too cold: the limit holds for a day after it."""
    key = seeded(db, shop, "yellow PVA")
    assert "if it stays here" not in owner.get(f"/products/{key}").text
    db.get_one(Shop, shop.id).climate_night = 5.0
    db.commit()
    page = owner.get(f"/products/{key}").text
    assert "It will not bond if it stays here: 41 °F from 22:00 on, and yellow PVA needs 50 °F at least" in page
    assert "<td>1 h</td><td>not now</td>" in page


def test_older_versions_say_what_changed_when_by_whom_and_why(owner: FlaskClient, db: Session, shop: Shop) -> None:
    owner.post("/products/new", data=product())
    db.rollback()
    key = db.scalars(select(Product.id)).one()
    changed = product(version="1", open_minutes="5", source="a new can", why="it skins sooner")
    assert owner.post(f"/products/{key}/edit", data=changed).status_code == 303
    page = owner.get(f"/products/{key}").text
    assert "Open time: 10 min from the first glue to the last clamp → 5 min from the first glue" in page
    assert "Version 2</b>, Tue 3, Ada: it skins sooner" in page
    assert "Source: the label → a new can" in page


def test_a_helper_sees_it_without_buttons(helper: FlaskClient, db: Session, shop: Shop) -> None:
    page = helper.get(f"/products/{factories.product(db, shop).id}").text
    assert "Out of clamps" in page
    assert "Change the figures" not in page


def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    assert stranger.get(f"/products/{factories.product(db, shop).id}").status_code == 404
