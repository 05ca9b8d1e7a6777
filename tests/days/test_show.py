"""The plan on screen: the same dates as the planner's, with their reasons and flags."""

from datetime import UTC, date, datetime
from typing import Any

from flask.testing import FlaskClient
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.builds.models import Build
from webapp.shops.models import Opening, Shop


def panel_glued(db: Session, shop: Shop, name: str = "Hall table", **values: Any) -> Build:
    """A build: mill, glue up, and level once the panel has rested for a week."""
    build = factories.build(db, shop, name, **values)
    mill = factories.operation(db, build, "mill", minutes=120)
    stages = [{"name": "out of clamps", "hours": 1}, {"name": "ready to plane", "hours": 168}]
    pva = factories.product(db, shop, f"PVA for {name} {build.id}", stages=stages)
    glue = factories.operation(db, build, "glue-up", after=[mill], minutes=45, product_id=pva.id)
    factories.operation(db, build, "level", after=[(glue, "ready to plane")], minutes=60)
    return build


def text(client: FlaskClient, url: str = "/days") -> str:
    answer = client.get(url)
    assert answer.status_code == 200
    return " ".join(answer.text.split())


def test_an_empty_shop_is_told_what_the_page_will_show(owner: FlaskClient) -> None:
    assert "Nothing to plan yet" in text(owner)


def test_work_stands_inside_the_hours_and_the_wait_runs_on(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA03: out of clamps and ready to plane are two ends. Now is Tue 3 Feb 14:18; mill till 16:18, the glue-up does
    not fit before 17:00 and comes on Wed 08:00-08:45; the panel rests until Wed 11 Feb 08:45.
    """
    panel_glued(db, shop)
    page = text(owner, "/days?days=14")
    assert "14:18–16:18" in page
    assert "08:00–08:45" in page
    assert "Glue-up in clamps until Wed 4, 09:45" in page
    assert "resting until Wed 11 February, 08:45" in page
    assert "must be ready to plane first: Wed 11 February, 08:45" in page


def test_late_is_said_on_top_with_a_way_out(owner: FlaskClient, db: Session, shop: Shop) -> None:
    panel_glued(db, shop, due_on=date(2026, 2, 6))
    page = text(owner)
    assert 'class="flag"' in page
    assert "late" in page


def test_a_helper_sees_the_days_and_a_stranger_sees_only_their_own(
    helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    panel_glued(db, shop)
    assert "Hall table" in text(helper)
    assert "Hall table" not in text(stranger)


def test_a_quote_is_not_planned(owner: FlaskClient, db: Session, shop: Shop) -> None:
    panel_glued(db, shop, status="quoted")
    assert "Nothing to plan yet" in text(owner)


def test_two_builds_of_one_name_are_two(owner: FlaskClient, db: Session, shop: Shop) -> None:
    panel_glued(db, shop)
    build = factories.build(db, shop)
    factories.operation(db, build, "shape")
    assert "Hall table (2)" in text(owner)


def test_the_journal_is_in_the_plan(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """What is done keeps its real time, and the wait counts from the moment the clamps were tight."""
    mill, glue, _ = panel_glued(db, shop).operations
    ada = factories.maker(db, shop, "Ada")
    for operation, start, end in ((mill, 13, 15), (glue, 15, 16)):
        factories.entry(db, ada, "started", datetime(2026, 2, 2, start, tzinfo=UTC), on=operation)
        factories.entry(db, ada, "done", datetime(2026, 2, 2, end, tzinfo=UTC), on=operation)
    page = text(owner, "/days?days=14")
    assert "14:18–16:18" not in page
    assert "Mon 9, 11:00" in page  # 16:00 UTC and a week


def test_a_cure_over_the_change_of_clocks_takes_its_real_hours(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA30: 24 h from Sat 7 Mar 2026 14:00 in New York end Sun 15:00; IANA zone data, read by the standard library."""
    clock.moment = datetime(2026, 3, 7, 18, 30, tzinfo=UTC)
    for weekday in (5, 6):
        db.add(Opening(shop_id=shop.id, weekday=weekday, opens=8 * 60, closes=18 * 60))
    db.commit()
    build = factories.build(db, shop)
    stages = [{"name": "full strength", "hours": 24}]
    glue = factories.operation(
        db, build, "glue-up", minutes=30, product_id=factories.product(db, shop, stages=stages).id
    )
    factories.operation(db, build, "shape", after=[(glue, "full strength")], minutes=30)
    page = text(owner)
    assert "13:30–14:00" in page
    assert "15:00–15:30" in page


def test_queries_do_not_grow_with_builds(owner: FlaskClient, db: Session, shop: Shop, engine: Engine) -> None:
    """SA20"""
    seen: list[str] = []
    event.listen(engine, "before_cursor_execute", lambda *args: seen.append(args[2]))
    panel_glued(db, shop)
    owner.get("/days")
    factories.operation(db, factories.build(db, shop, "Tray"), "shape")
    seen.clear()
    owner.get("/days")
    few = len(seen)
    for number in range(10):
        factories.operation(db, factories.build(db, shop, f"Piece {number}"), "shape")
    seen.clear()
    owner.get("/days")
    assert len(seen) == few


def test_what_left_the_shop_is_planned_only_while_some_of_it_is_to_be_done(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    done = factories.build(db, shop, "Old tray", status="delivered")
    shape = factories.operation(db, done, "shape")
    ada = factories.maker(db, shop, "Ada")
    factories.entry(db, ada, "done", datetime(2026, 1, 5, 15, tzinfo=UTC), on=shape, minutes=60)
    left = factories.build(db, shop, "Young tray", status="delivered")
    factories.operation(db, left, "rub out")
    page = text(owner)
    assert "Young tray" in page
    assert "Old tray" not in page


def test_a_day_in_another_month_has_its_month(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    clock.forward(days=24)  # Fri 27 February
    panel_glued(db, shop, due_on=date(2026, 3, 2))
    assert "due Mon 2 March" in text(owner)


def test_cold_is_said_in_the_unit_of_the_shop(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """The glue needs 50 °F for a day, and the shop is at 39.2 °F by night."""
    shop.climate_day, shop.climate_night = 20, 4
    pva = factories.product(db, shop, lowest=10, lowest_for_hours=24)
    factories.operation(db, factories.build(db, shop), "glue-up", product_id=pva.id)
    page = text(owner)
    assert "50 °F" in page
    assert "39.2 °F" in page
    assert "°C" not in page
    shop.temperature_unit = "C"
    db.commit()
    page = text(owner)
    assert "10 °C" in page
    assert "°F" not in page
