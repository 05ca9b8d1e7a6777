"""What is asked before the shop is left: near closing, of the day's oil and dust, until somebody has seen to it."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.journal.steps import entries, queries, tap
from webapp.builds.models import Operation
from webapp.shops.models import Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
ASKED = "Before you close</h2>"
RAGS = "<summary>Oily rags can catch fire by themselves</summary>"


@pytest.fixture
def oil(db: Session, shop: Shop) -> Operation:
    found = factories.product(db, shop, "boiled linseed oil", use="finish")
    found.family = "oil"
    return factories.operation(db, factories.build(db, shop), "oil", kind="coat", name="Oil it", product_id=found.id)


def test_cloths_are_asked_about_near_closing(owner: FlaskClient, oil: Operation, clock: Clock) -> None:
    """The day's oil step at 14:18; the shop shuts at 17:00, and it stays until midnight."""
    tap(owner, f"/operations/{oil.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{oil.id}/done")
    assert ASKED not in owner.get("/").text
    clock.forward(minutes=71)  # 15:59
    assert ASKED not in owner.get("/").text
    clock.forward(minutes=1)
    page = owner.get("/").text
    assert ASKED in page
    assert page.count(RAGS) == 1
    assert "Follow the label, local codes and licensed practice." in page
    clock.forward(hours=7)  # 23:00
    assert ASKED in owner.get("/").text
    clock.forward(hours=10)  # the next morning
    assert ASKED not in owner.get("/").text


def test_seen_to_is_a_line_of_the_journal(helper: FlaskClient, db: Session, oil: Operation, clock: Clock) -> None:
    """SA15: sent twice, stored once. Taken back it is asked again, and after the next oil step too."""
    tap(helper, f"/operations/{oil.id}/start")
    clock.forward(hours=2)
    for _ in range(2):
        assert tap(helper, "/closing", "seen-1").status_code == 303
    assert [line.data["note"] for line in entries(db, "noted")] == [
        "Before closing: seen to (oily rags can catch fire by themselves)."
    ]
    assert ASKED not in helper.get("/").text
    clock.forward(minutes=5)
    tap(helper, "/entries/seen-1/undo")
    assert ASKED in helper.get("/").text
    tap(helper, "/closing", "seen-2")
    clock.forward(minutes=5)
    tap(helper, f"/operations/{oil.id}/done")
    assert ASKED in helper.get("/").text


def test_sanding_on_a_day_with_oil_asks_for_the_dust(
    owner: FlaskClient, db: Session, oil: Operation, clock: Clock
) -> None:
    sand = factories.operation(db, oil.build, "sand")
    for one in (sand, oil):
        tap(owner, f"/operations/{one.id}/start", told="yes")
        clock.forward(minutes=55)
        tap(owner, f"/operations/{one.id}/done")
        clock.forward(minutes=1)
    assert "Dust with oil in it can catch fire by itself" in owner.get("/").text


def test_a_day_without_oil_asks_nothing(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    mill = factories.operation(db, factories.build(db, shop))
    tap(owner, f"/operations/{mill.id}/start")
    clock.forward(hours=2)
    assert ASKED not in owner.get("/").text


def test_another_shop_is_asked_nothing(stranger: FlaskClient, owner: FlaskClient, oil: Operation, clock: Clock) -> None:
    tap(owner, f"/operations/{oil.id}/start")
    clock.forward(hours=2)
    assert ASKED not in stranger.get("/").text
    tap(stranger, "/closing")
    assert ASKED in owner.get("/").text


def test_a_time_that_cannot_be_read_comes_back(owner: FlaskClient, oil: Operation) -> None:
    answer = tap(owner, "/closing", at="at five")
    assert answer.status_code == 422
    assert re.search(r"Type a day and time", answer.text)


def test_it_asks_as_often_after_a_long_day(
    owner: FlaskClient, db: Session, shop: Shop, oil: Operation, clock: Clock, engine: Engine
) -> None:
    tap(owner, f"/operations/{oil.id}/start")
    clock.forward(hours=2)
    owner.get("/")
    before = queries(engine, owner, "/")
    factories.anew(db)
    maker = factories.maker(db, shop, "Ada")
    for _ in range(20):
        factories.entry(db, maker, "noted", clock(), on=oil, note="second coat")
    owner.get("/")
    assert queries(engine, owner, "/") <= before
