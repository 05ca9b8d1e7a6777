"""Putting up the invented shop: POST /invented."""

from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests.conftest import Clock
from webapp.builds.models import Build, Operation
from webapp.costs.actions import cost_sheets, payments_of
from webapp.invented.place import NAME
from webapp.journal import actions as journal
from webapp.journal.standing import standing_of
from webapp.people.models import Person
from webapp.photos.models import Photo
from webapp.planning.record import State
from webapp.shops.models import HELPER, Maker, Shop
from webapp.web.files import store


def test_the_first_visitor_becomes_its_owner_and_stands_in_it(looker: FlaskClient, invented: Shop, db: Session) -> None:
    page = looker.get("/").get_data(as_text=True)
    assert NAME in page
    assert "This is an invented shop to look round in." in page
    assert "Remove it and start my own" in page
    assert db.scalars(select(Person)).one().password_hash is None


def test_it_holds_the_pieces_it_promises(invented: Shop, db: Session) -> None:
    statuses = dict(
        db.execute(select(Build.status, func.count()).where(Build.shop_id == invented.id).group_by(Build.status)).all()
    )
    assert statuses == {"delivered": 2, "aftercare": 1, "in the making": 3, "quoted": 1, "enquiry": 1}
    woods = set(db.scalars(select(Build.wood)))
    assert len(woods) == 7
    names = " ".join(db.scalars(select(Build.name))).casefold()
    assert "bench" not in names.split()
    assert "bed" not in names.split()


def test_its_clocks_run(invented: Shop, db: Session, clock: Clock) -> None:
    """One thing in hand, in clamps for less than an hour, curing, resting for days, and something that asks."""
    waits = journal.waits(db, invented, clock())
    left = {
        mark: [wait.end - clock() for wait in waits if wait.mark == mark] for mark in ("clamped", "curing", "resting")
    }
    in_clamps = [span for span in left["clamped"] if span > timedelta(0)]
    assert len(in_clamps) == 1
    assert timedelta(minutes=30) <= in_clamps[0] <= timedelta(minutes=70)
    assert [timedelta(hours=3) <= span <= timedelta(hours=72) for span in left["curing"]] == [True]
    assert max(left["resting"]) >= timedelta(days=3)


def test_something_wants_an_answer_and_something_is_ready(invented: Shop, db: Session, clock: Clock) -> None:
    seen = journal.scene(db, invented, clock())
    standing = [standing_of(seen, operation, invented.makers[0].id) for operation in seen.operations]
    asked = [wait.stage for one in standing for wait in one.questions]
    assert asked == ["out of clamps"]
    ready = [one for one in standing if one.is_open and not one.hard]
    assert len([one for one in ready if seen.builds[one.operation.build_id].status == "in the making"]) >= 2


def test_every_operation_folds_and_exactly_one_is_in_hand(invented: Shop, db: Session, clock: Clock) -> None:
    operations = db.scalars(select(Operation).where(Operation.shop_id == invented.id)).all()
    states = list(journal.states(db, operations, clock()).values())
    assert [state.state for state in states].count(State.IN_HAND) == 1
    assert [state.state for state in states].count(State.ABANDONED) == 1
    assert sum("too-early" in state.overruled for state in states) == 1


def test_what_is_delivered_has_no_open_work(invented: Shop, db: Session, clock: Clock) -> None:
    builds = db.scalars(select(Build).where(Build.status.in_(("delivered", "aftercare")))).all()
    for build in builds:
        states = journal.states(db, build.operations, clock())
        assert all(state.finished or state.abandoned_at for state in states.values())
        assert build.delivered_on is not None


def test_nobodys_clocks_ran_at_once_and_none_was_forgotten(invented: Shop, db: Session, clock: Clock) -> None:
    labour = journal.labour_of(db, invented, clock())
    assert not labour.overlaps
    assert not labour.questions
    assert labour.spans


def test_its_money_adds_up(invented: Shop, db: Session, clock: Clock) -> None:
    builds = db.scalars(select(Build).where(Build.shop_id == invented.id)).all()
    for build, sheet in ((build, cost_sheets(db, builds, clock())[build.id]) for build in builds):
        payments = payments_of(db, build)
        assert sum(payment.amount_minor for payment in payments) == (sheet.price_minor or 0)
        assert sheet.unrated == 0
        if build.delivered_on:
            assert sheet.materials_minor > 0
            assert sheet.labour_minor > 0
            assert all(payment.paid_on for payment in payments)


def test_all_its_pages_open(looker: FlaskClient, invented: Shop, db: Session) -> None:
    builds = db.scalars(select(Build.id).where(Build.shop_id == invented.id)).all()
    pages = [
        "/",
        "/builds",
        "/days",
        "/products",
        "/stock",
        "/costs",
        "/lookback",
        "/shop",
        "/journal",
        "/photos",
        "/moisture",
    ]
    for page in [*pages, *(f"/builds/{key}" for key in builds)]:
        assert looker.get(page).status_code == 200, page


def test_photos_stand_where_they_were_taken(pictures: int, app: Flask, invented: Shop, db: Session) -> None:
    photos = db.scalars(select(Photo).where(Photo.shop_id == invented.id)).all()
    assert len(photos) == pictures
    assert all(photo.taken_at == photo.at and not photo.asks_time and photo.caption for photo in photos)
    with app.app_context():
        assert all(store().exists(f"{photo.sha256}.original") for photo in photos)


@pytest.mark.parametrize(
    ("zone", "found"),
    [
        ("America/Chicago", ("America/Chicago", "in", "F", "USD")),
        ("Pacific/Auckland", ("Pacific/Auckland", "mm", "C", "EUR")),
    ],
)
def test_it_measures_as_the_place_does(nobody: FlaskClient, db: Session, zone: str, found: tuple[str, ...]) -> None:
    nobody.post("/invented", data={"time_zone": zone})
    shop = db.scalars(select(Shop)).one()
    assert (shop.time_zone, shop.length_unit, shop.temperature_unit, shop.currency) == found


def test_the_offer_stands_where_one_starts_a_shop(owner: FlaskClient, shop: Shop) -> None:
    assert "Look round an invented shop" in owner.get("/start").get_data(as_text=True)
    owner.post("/invented", data={})
    assert "Look round an invented shop" not in owner.get("/start").get_data(as_text=True)


def test_nothing_is_promised_for_a_weekend(invented: Shop, db: Session) -> None:
    due = db.scalars(select(Build.due_on).where(Build.due_on.is_not(None))).all()
    assert due
    assert all(day.weekday() < 5 for day in due if day)


def test_an_unknown_zone_is_not_believed(nobody: FlaskClient, db: Session) -> None:
    assert nobody.post("/invented", data={"time_zone": "Owlgate/Nowhere"}).status_code == 303
    assert db.scalars(select(Shop)).one().time_zone != "Owlgate/Nowhere"


def test_sent_twice_is_one_shop(looker: FlaskClient, db: Session) -> None:
    assert looker.post("/invented", data={"time_zone": "Europe/Oslo"}).status_code == 303
    assert db.scalar(select(func.count()).select_from(Shop)) == 1


def test_an_owner_of_a_real_shop_may_look_round_too(owner: FlaskClient, shop: Shop, db: Session) -> None:
    assert owner.post("/invented", data={}).status_code == 303
    assert NAME in owner.get("/").get_data(as_text=True)
    db.rollback()
    assert db.scalar(select(func.count()).select_from(Shop)) == 2
    assert db.get_one(Shop, shop.id).is_invented is False


def test_a_helper_elsewhere_gets_one_of_their_own(helper: FlaskClient, db: Session) -> None:
    assert helper.post("/invented", data={}).status_code == 303
    db.rollback()
    found = db.scalars(select(Shop).where(Shop.is_invented)).one()
    assert {maker.name: maker.role for maker in found.makers}["Ben"] == "owner"


def test_somebody_who_comes_later_without_an_account_may_not(
    looker: FlaskClient, invented: Shop, app: Flask, db: Session
) -> None:
    other = app.test_client()
    answer = other.post("/invented", data={}, environ_overrides={"REMOTE_ADDR": "192.0.2.7"})
    assert answer.status_code == 403
    assert db.scalar(select(func.count()).select_from(Shop)) == 1


def test_a_visitor_from_elsewhere_is_not_the_first(nobody: FlaskClient, db: Session) -> None:
    answer = nobody.post("/invented", data={}, environ_overrides={"REMOTE_ADDR": "192.0.2.7"})
    assert answer.status_code == 403
    assert db.scalar(select(func.count()).select_from(Shop)) == 0


def test_the_helper_of_the_shop_works_on_thursdays(invented: Shop, db: Session) -> None:
    helper = db.scalars(select(Maker).where(Maker.shop_id == invented.id, Maker.role == HELPER)).one()
    assert {row.weekday for row in helper.openings} == {3}
    assert helper.rates[-1].hour_minor < invented.makers[0].rates[-1].hour_minor


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
@pytest.mark.parametrize("moment", ["2026-02-03T14:18", "2026-11-29T22:40", "2026-12-02T00:30", "2026-12-04T09:30"])
def test_its_plan_and_its_bench_warn_of_nothing(nobody: FlaskClient, clock: Clock, moment: str) -> None:
    """Whenever somebody comes to look round: in the afternoon, on Sunday night, after midnight, in the morning."""
    clock.moment = datetime.fromisoformat(moment).replace(tzinfo=UTC)
    nobody.post("/invented", data={"time_zone": "Europe/Oslo"})
    days, bench = (nobody.get(page).get_data(as_text=True) for page in ("/days", "/"))
    assert days.count("holds</b>") == 3
    assert 'class="flag"' not in days + bench
    assert "Suspect" not in bench
