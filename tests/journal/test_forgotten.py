"""A day with a forgotten clock, and a night with an hour less, as the pages tell of them."""

from datetime import UTC, datetime, timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import glue_up, tap
from webapp.journal.actions import labour_of, states
from webapp.shops.models import Shop


def booked(db: Session, shop: Shop, clock: Clock) -> timedelta:
    db.rollback()
    return sum((one.end - one.start for one in labour_of(db, shop, clock.moment).stretches), timedelta())


def test_a_clock_forgotten_over_night_beside_another(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA27: A at 09:00, B at 11:00 beside it, B done at 12:00, A found running at 08:00 the next morning."""
    glue, _ = glue_up(db, shop, hours=30)
    build = factories.build(db, shop, "Bench seat")
    first, second = factories.operation(db, build, "a", name="Mill A"), factories.operation(db, build, "b", name="B")
    clock.moment = START - timedelta(hours=5, minutes=18)
    tap(owner, f"/operations/{glue.id}/done")
    tap(owner, f"/operations/{first.id}/start", "a")
    clock.forward(hours=2)
    asked = owner.get(tap(owner, f"/operations/{second.id}/start", "b").location).text
    assert "Pause Mill A and start" in asked
    tap(owner, f"/operations/{second.id}/start", "b", others="beside")
    clock.forward(hours=1)
    tap(owner, f"/operations/{second.id}/done")
    assert booked(db, shop, clock) == timedelta(hours=3)
    assert len(labour_of(db, shop, clock.moment).overlaps) == 1
    clock.forward(hours=20)
    page = owner.get("/").text
    assert "Mill A: stopped when?" in page
    assert "23 h so far" in page
    assert "in 7 h<" in page  # the glue's wait runs on beside it and asks nobody
    assert booked(db, shop, clock) == timedelta(hours=8)  # until closing at 17:00, and no minute twice
    tap(owner, "/entries/a/stopped", at="2026-02-03T16:00")
    assert booked(db, shop, clock) == timedelta(hours=7)
    assert "stopped when?" not in owner.get("/").text


def test_over_the_night_of_the_clock_change_real_hours_are_counted(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """SA08: New York, 7 Mar 14:00 to 8 Mar 14:00 by the wall are 23 h; IANA zone data."""
    operation = factories.operation(db, factories.build(db, shop))
    clock.moment = datetime(2026, 3, 7, 19, tzinfo=UTC)
    tap(owner, f"/operations/{operation.id}/start")
    clock.moment = datetime(2026, 3, 8, 18, tzinfo=UTC)
    tap(owner, f"/operations/{operation.id}/pause", at="2026-03-08T13:59")
    db.rollback()
    assert states(db, [operation], clock.moment)[operation.id].worked_minutes == 23 * 60 - 1
