"""Money of all open builds, and the costs on a build's own page."""

from datetime import UTC, date, datetime
from decimal import Decimal

from flask.testing import FlaskClient
from sqlalchemy import event
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import ada, bill, rate, terms, worked
from webapp.costs.actions import cost_sheet, cost_sheets
from webapp.costs.models import Payment
from webapp.shops.models import Shop

NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)


def test_an_empty_page_says_what_it_is_for(owner: FlaskClient) -> None:
    assert "No open pieces" in owner.get("/costs").text


def test_open_builds_with_price_cost_and_what_is_still_to_come(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    bill(db, build, 12345)
    terms(db, build, 840000)
    place = {"shop_id": shop.id, "build_id": build.id, "name": "deposit", "percent": Decimal(10)}
    db.add(Payment(**place, position=0, amount_minor=84000, paid_on=date(2026, 1, 5)))
    db.add(Payment(**{**place, "name": "rest", "percent": Decimal(90)}, position=1, amount_minor=756000))
    factories.build(db, shop, "Closed chest", status="closed")
    db.commit()
    page = owner.get("/costs").text
    for amount in ("$123.45", "$8,400.00", "$840.00", "$7,560.00"):
        assert amount in page
    assert "Closed chest" not in page


def test_a_build_without_a_price_says_so(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop)
    assert "not agreed" in owner.get("/costs").text


def test_a_helper_may_not_see_money(helper: FlaskClient) -> None:
    assert helper.get("/costs").status_code == 403


def test_a_stranger_sees_only_his_own(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Secret desk")
    assert "Secret desk" not in stranger.get("/costs").text


def test_the_builds_page_shows_costs_to_owners_only(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop)
    bill(db, build, 12345)
    assert "$123.45" in owner.get(f"/builds/{build.id}").text
    assert "$123.45" not in helper.get(f"/builds/{build.id}").text
    assert 'id="costs"' not in helper.get(f"/builds/{build.id}").text


def test_many_sheets_are_as_many_single_ones_in_as_few_queries(db: Session, shop: Shop) -> None:
    maker = ada(db, shop)
    rate(db, maker, 5921)
    builds = [factories.build(db, shop, f"Build {number}") for number in range(4)]
    for number, build in enumerate(builds):
        worked(db, build, maker, 50 + number, day=1 + number % 2, hour=14 + number)
        bill(db, build, 1000 + number)
        terms(db, build, 9999)
    single = {build.id: cost_sheet(db, build, NOW) for build in builds}
    assert cost_sheets(db, builds, NOW) == single
    assert queries(db, builds[:1]) == queries(db, builds)


def queries(db: Session, builds: list[factories.Build]) -> int:
    seen: list[str] = []

    def note(*args: object) -> None:
        seen.append(str(args[2]))

    db.rollback()
    names = [build.name for build in builds]
    assert names
    engine = db.get_bind()
    event.listen(engine, "before_cursor_execute", note)
    cost_sheets(db, builds, NOW)
    event.remove(engine, "before_cursor_execute", note)
    return len(seen)


def test_no_builds_no_sheets(db: Session) -> None:
    assert cost_sheets(db, [], NOW) == {}
