"""Waits come from one clock: the bench, the build's page and the plan say the same instant."""

import json
from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import glue_up, tap
from webapp.days.document import shop_document
from webapp.journal.actions import waits
from webapp.planning import instants
from webapp.planning.document import answer
from webapp.planning.export import export
from webapp.planning.plan import plan
from webapp.shops.models import HELPER, Shop


def test_the_plan_and_the_bench_name_the_same_end(
    app: Flask, owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """Seconds, own hours of a stage and a test that said "not yet" are rounded alike."""
    glue, _ = glue_up(db, shop, hours=1.06)
    glue.stages = [{"name": "ready to plane", "hours": 100.01}]
    db.commit()
    clock.forward(seconds=17)
    tap(owner, f"/operations/{glue.id}/clamps")
    clock.forward(seconds=40)
    tap(owner, f"/operations/{glue.id}/done")
    clock.forward(minutes=90)
    tap(owner, f"/operations/{glue.id}/stage", stage="out of clamps", answer="not yet", **{"in": "61"})
    db.rollback()
    shown = {wait.stage: instants.cut(wait.end) for wait in waits(db, shop, clock.moment)}
    with app.test_request_context():
        document = shop_document(db, shop.id, clock.moment).document
    planned = {one.key: one.stages for one in plan(document).builds[0].operations}["glue-up"]
    assert shown == {name: planned[name] for name in ("out of clamps", "ready to plane")}


def test_a_layer_that_was_tacky_moves_the_next_one_in_the_plan(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA07: "not dry" moves what follows, and the document that says so is one the planner takes."""
    oil = factories.product(db, shop, "oil", "finish", stages=[], recoat=[{"from_hours": 1}])
    build = factories.build(db, shop)
    one = factories.operation(db, build, "oil1", kind="coat", product_id=oil.id)
    factories.operation(db, build, "oil2", kind="coat", product_id=oil.id, over_id=one.id, minutes=20)
    tap(owner, f"/operations/{one.id}/done")
    clock.forward(minutes=61)
    tap(owner, f"/operations/{one.id}/stage", stage="dry", answer="tacky", again_at="2026-02-04T10:30")
    db.rollback()
    document = shop_document(db, shop.id, clock.moment).document
    status, printed, faults = answer(json.dumps(export(document)))
    assert (status, faults) == (0, "")
    [_, second] = json.loads(printed)["builds"][0]["operations"]
    assert second["start"] == "2026-02-04T10:30:00-05:00"


@pytest.mark.parametrize(
    ("zone", "begin", "hours", "shown"),
    [
        ("America/New_York", datetime(2026, 3, 7, 19, tzinfo=UTC), 24, "Sun 15:00"),
        ("Europe/London", datetime(2026, 3, 28, 20, 30, tzinfo=UTC), 12, "Sun 09:30"),
    ],
)
def test_a_cure_over_a_clock_change_takes_its_real_hours(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock, zone: str, begin: datetime, hours: int, shown: str
) -> None:
    """TA30: from Sat 14:00, 24 h are over on Sun 15:00 in New York; 12 h from Sat 20:30 on Sun 09:30 in London."""
    shop.time_zone = zone
    glue, _ = glue_up(db, shop, hours=hours)
    db.commit()
    clock.moment = begin
    tap(owner, f"/operations/{glue.id}/done")
    page = owner.get("/").text
    assert shown in page
    assert f"in {hours} h<" in page


def test_the_end_outlives_the_phone_and_the_server(
    owner: FlaskClient, app: Flask, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA31: 4 h from 13:30, looked at again at 18:10, on another phone as well; nothing was started anew."""
    glue, _ = glue_up(db, shop, hours=4)
    clock.moment = START - timedelta(minutes=48)
    tap(owner, f"/operations/{glue.id}/done")
    assert "17:30" in owner.get("/").text
    db.rollback()
    app.extensions["sessions"].engine.dispose()
    clock.forward(hours=4, minutes=40)
    helper = factories.client_of(app, db, shop, "Ben", HELPER)
    for phone in (owner, helper):
        page = phone.get("/").text
        assert "Glue up the top: out of clamps?" in page
        assert "17:30" in page
        assert "40 min ago" in page
        assert f'data-alarm="{glue.id}:out of clamps' not in page  # no alarm is left to be rung


def test_remaining_time_is_right_on_the_first_paint(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """SA12: the page as the server sends it is right after a sleep, and carries the instant, not a count."""
    glue, _ = glue_up(db, shop, hours=0.5)
    tap(owner, f"/operations/{glue.id}/done")
    end = (START + timedelta(minutes=30)).isoformat(timespec="seconds")
    for slept, left in ((0, "in 30 min"), (10, "in 20 min")):
        clock.forward(minutes=slept)
        page = owner.get("/").text
        assert f'data-until="{end}">{left}<' in page
    assert "A closed page or a locked phone stays silent." in page
