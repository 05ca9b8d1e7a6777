"""Work for no build, and clocks that somebody forgot."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, tap
from webapp.journal.actions import labour_of
from webapp.shops.models import Shop


def booked(db: Session, shop: Shop, clock: Clock) -> float:
    db.rollback()
    return sum((s.end - s.start).total_seconds() / 3600 for s in labour_of(db, shop, clock.moment).stretches)


def test_sharpening_has_a_clock_of_its_own(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    tap(owner, "/shop-time", "s", what="Sharpening")
    tap(owner, "/shop-time", "s", what="Sharpening")
    tap(owner, "/shop-time", what="Sharpening")
    clock.forward(minutes=25)
    page = owner.get("/").text
    assert "Sharpening" in page
    assert "0:25" in page
    tap(owner, "/shop-time/pause", what="Sharpening")
    assert [(line.kind, line.build_id) for line in entries(db)] == [("started", None), ("paused", None)]
    assert round(booked(db, shop, clock) * 60) == 25


def test_it_asks_about_the_other_clock_too(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA27: shop time is labour as well: one person, one clock."""
    operation = factories.operation(db, factories.build(db, shop), name="Mill")
    tap(owner, f"/operations/{operation.id}/start")
    clock.forward(minutes=10)
    asked = tap(owner, "/shop-time", what="Sweeping")
    assert "Pause Mill and start" in owner.get(asked.location).text
    tap(owner, "/shop-time", what="Sweeping", others="pause")
    assert sorted(line.kind for line in entries(db)) == ["paused", "started", "started"]


def test_it_needs_a_name(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert tap(owner, "/shop-time", what="").status_code == 422
    assert tap(owner, "/shop-time/pause", what="").status_code == 422
    assert owner.get("/shop-time").status_code == 200


def test_a_clock_that_ran_past_closing_is_asked_about_and_not_booked(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA27: 23 h are not booked but asked about; the answer is what counts."""
    operation = factories.operation(db, factories.build(db, shop), name="Mill")
    clock.moment = START - timedelta(hours=5, minutes=18)  # 09:00
    tap(owner, f"/operations/{operation.id}/start", "s")
    clock.forward(hours=23)
    page = owner.get("/").text
    assert "Mill: stopped when?" in page
    assert "23 h so far" in page
    assert booked(db, shop, clock) == 8  # up to closing, and marked
    assert "ran past closing" in owner.get("/entries/s/stopped").text
    early = tap(owner, "/entries/s/stopped", at="2026-02-03T08:30")
    assert early.status_code == 422
    tap(owner, "/entries/s/stopped", "a", at="2026-02-03T11:30")
    tap(owner, "/entries/s/stopped", "a", at="2026-02-03T11:30")
    assert booked(db, shop, clock) == 2.5
    assert "stopped when?" not in owner.get("/").text
    assert owner.get("/entries/s/stopped").status_code == 404


def test_a_helper_is_not_asked_about_others(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    operation = factories.operation(db, factories.build(db, shop), name="Mill")
    tap(owner, f"/operations/{operation.id}/start", "s")
    clock.forward(hours=23)
    assert "stopped when?" not in helper.get("/").text
    assert "stopped when?" in owner.get("/").text


def test_strangers_learn_nothing(owner: FlaskClient, stranger: FlaskClient, shop: Shop, clock: Clock) -> None:
    tap(owner, "/shop-time", "s", what="Sharpening")
    clock.forward(hours=23)
    assert stranger.get("/entries/s/stopped").status_code == 404
    assert tap(stranger, "/entries/s/stopped", at="2026-02-03T17:00").status_code == 404
    assert "Sharpening" not in stranger.get("/journal").text
