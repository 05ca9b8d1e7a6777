"""The cost sheet of a build."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import ada, bill, rate, terms, worked
from webapp.costs.actions import cost_sheet
from webapp.shops.models import HELPER, Shop

NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)


def test_an_empty_sheet_says_what_will_stand_there(owner: FlaskClient, db: Session, shop: Shop) -> None:
    page = owner.get(f"/builds/{factories.build(db, shop).id}/costs").text
    assert "No hours in the journal yet" in page
    assert "No price agreed yet" in page
    assert "Split the price into parts" in page


def test_bills_labour_and_consumables_add_up_to_the_cent(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA07: 50 min at 25.15 are 20.958… and count as 20.96; 7.5 % of 120.07 are 9.00525 and count as 9.01."""
    build, maker = factories.build(db, shop), ada(db, shop)
    bill(db, build, 10007)
    bill(db, build, 2000, "hardware")
    rate(db, maker, 2515)
    worked(db, build, maker, 50)
    terms(db, build, 50000, consumables_percent=Decimal("7.5"))
    page = owner.get(f"/builds/{build.id}/costs").text
    for amount in ("$100.07", "$20.00", "$9.01", "$20.96", "$150.04", "$349.96"):
        assert amount in page
    assert 10007 + 2000 + 901 + 2096 == 15004
    # price less all but labour, 370.92, over 50 min
    assert "$445.10" in page


def test_labour_is_charged_at_the_rate_of_its_day(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build, maker = factories.build(db, shop), ada(db, shop)
    rate(db, maker, 4000)
    rate(db, maker, 4500, date(2026, 2, 3))
    worked(db, build, maker, 60, day=2)
    worked(db, build, maker, 60, day=3)
    sheet = cost_sheet(db, build, NOW)
    assert [(day.day, day.rate) for day in sheet.labour[0].days] == [(date(2026, 2, 2), 4000), (date(2026, 2, 3), 4500)]
    assert "at $40.00 an hour" in owner.get(f"/builds/{build.id}/costs").text


def test_minutes_without_a_rate_are_said_plainly(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    worked(db, build, ada(db, shop), 45)
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "45 min have no rate, so they cost nothing here" in page


def test_two_clocks_at_once_are_paid_once(db: Session, shop: Shop) -> None:
    """TA27: overlapping minutes go to the clock that was started last, on whichever build."""
    one, other, maker = factories.build(db, shop), factories.build(db, shop, "Chest"), ada(db, shop)
    rate(db, maker, 6000)
    worked(db, one, maker, 120, hour=14)
    worked(db, other, maker, 60, hour=15)
    assert cost_sheet(db, one, NOW).minutes == 60
    assert cost_sheet(db, other, NOW).minutes == 60


def test_a_forgotten_clock_is_left_out_until_answered(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA27: the night is not charged; the sheet says so."""
    build, maker = factories.build(db, shop), ada(db, shop)
    operation = factories.operation(db, build, "mill")
    factories.entry(db, maker, "started", datetime(2026, 2, 2, 20, tzinfo=UTC), on=operation)
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "2 h of a clock that was left running are not in here" in page
    assert cost_sheet(db, build, NOW).minutes == 0


def test_everybody_who_worked_has_a_line(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    ben = factories.maker(db, shop, "Ben", role=HELPER)
    worked(db, build, ada(db, shop), 60)
    worked(db, build, ben, 30)
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "Ada <span" in page
    assert "Ben <span" in page


def test_margin_and_mark_up_are_named_apart(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA21: cost 1,000 sold at 1,280: a mark-up of 28 % and a margin of 21.9 %."""
    build = factories.build(db, shop)
    bill(db, build, 100000)
    terms(db, build, 128000)
    page = owner.get(f"/builds/{build.id}/costs").text
    assert 'Margin <span class="pencil">what is left, of the price</span></th><td class="n">21.9 %' in page
    assert 'Mark-up <span class="pencil">what is left, on the costs</span></th><td class="n">28 %' in page


def test_a_price_for_a_margin_is_worked_out(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA21: 28 % margin on 1,000 is 1,388.89."""
    build = factories.build(db, shop)
    bill(db, build, 100000)
    page = owner.get(f"/builds/{build.id}/costs?percent=28").text
    assert "$1,388.89" in page
    assert "$1,280.00" in page


@pytest.mark.parametrize("typed", ["100", "250", "x", ""])
def test_a_margin_that_cannot_be_is_refused(owner: FlaskClient, db: Session, shop: Shop, typed: str) -> None:
    """TA21: 100 % or more is refused, not divided by zero."""
    build = factories.build(db, shop)
    bill(db, build, 100000)
    answer = owner.get(f"/builds/{build.id}/costs?percent={typed}")
    assert answer.status_code == 200
    assert 'id="percent-wrong"' in answer.text


def test_a_loss_is_called_a_loss(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    bill(db, build, 10000)
    terms(db, build, 9000)
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "Loss" in page
    assert "-$10.00" in page


def test_a_helper_may_not_see_money(helper: FlaskClient, db: Session, shop: Shop) -> None:
    assert helper.get(f"/builds/{factories.build(db, shop).id}/costs").status_code == 403


def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    assert stranger.get(f"/builds/{factories.build(db, shop).id}/costs").status_code == 404
