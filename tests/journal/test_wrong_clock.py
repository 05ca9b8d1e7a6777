"""A box without a clock of its own comes up in 1970 or at yesterday; another runs ahead for a while."""

from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, tap
from webapp.journal.wrong_clock import FIRST, to_come
from webapp.shops.models import Shop


@pytest.fixture
def path(owner: FlaskClient, db: Session, shop: Shop) -> str:
    """A line was written at 14:18, by a right clock."""
    operation = factories.operation(db, factories.build(db, shop))
    path = f"/operations/{operation.id}/start"
    assert owner.post("/journal/note", data={"note": "Oak came in"}).status_code == 303
    return path


def test_a_clock_that_was_set_back_is_said_on_every_page(owner: FlaskClient, path: str, clock: Clock) -> None:
    clock.moment = START - timedelta(days=1)
    for page in ("/", "/builds", "/days", "/journal"):
        text = unescape(owner.get(page).text)
        assert "it is Monday, 2 February 2026, 14:18, but the journal has a line of Tuesday, 3 February" in text
        assert "Set the clock of the server" in text


def test_a_clock_that_was_never_set_is_said_before_anything_is_written(owner: FlaskClient, clock: Clock) -> None:
    clock.moment = datetime(1970, 1, 1, 5, 4, tzinfo=UTC)
    assert (
        "By the clock of the server it is Thursday, 1 January 1970, 00:04, so it was never set." in owner.get("/").text
    )
    clock.moment = FIRST - timedelta(days=1)
    assert "so it was never set" in owner.get("/").text
    clock.moment = FIRST
    assert "so it was never set" not in owner.get("/").text


@pytest.mark.parametrize("minutes", [0, -4, 60, 60 * 24 * 365])
def test_a_clock_in_order_or_a_little_off_is_not_talked_about(
    owner: FlaskClient, path: str, clock: Clock, minutes: int
) -> None:
    clock.forward(minutes=minutes)
    assert "By the clock of the server" not in owner.get("/").text
    assert tap(owner, path).status_code == 303


def test_a_tap_is_neither_refused_nor_written_in_silence(
    owner: FlaskClient, path: str, db: Session, clock: Clock
) -> None:
    """What was tapped is one tap from saved: after the clock is set, or as it is, by whoever says it is right."""
    clock.moment = START - timedelta(days=1)
    page = tap(owner, path, "tap-1", next="/journal")
    assert page.status_code == 409
    assert "If the clock is wrong, set it first" in page.text
    assert 'name="id" value="tap-1"' in page.text
    assert entries(db, "started") == []
    clock.moment = START + timedelta(minutes=10)
    assert tap(owner, path, "tap-1").status_code == 303
    assert [one.at for one in entries(db, "started")] == [clock()]


def test_whoever_says_the_clock_is_right_is_believed(owner: FlaskClient, path: str, db: Session, clock: Clock) -> None:
    clock.moment = START - timedelta(days=1)
    assert 'name="clock" value="believed"' in tap(owner, path, "tap-1").text
    assert tap(owner, path, "tap-1", clock="believed").status_code == 303
    assert [one.at for one in entries(db, "started")] == [clock()]


def test_after_a_clock_that_ran_ahead_the_lines_are_put_right(
    owner: FlaskClient, path: str, db: Session, clock: Clock
) -> None:
    """Nothing speaks against a clock that runs ahead until it is right again; then its lines are to come."""
    clock.forward(days=300)
    tap(owner, path, "ahead")
    clock.moment = START + timedelta(hours=1)
    assert (
        "By the clock of the server it is Tuesday, 3 February 2026, 15:18, but the journal has a line of"
        in owner.get("/").text
    )
    mended = owner.post("/entries/ahead/edit", data={"at": "2026-02-03T15:00", "id": "mended"})
    assert mended.status_code == 303
    assert "By the clock of the server" not in owner.get("/").text
    factories.anew(db)
    assert to_come(db, clock()) is None


def test_such_a_line_may_be_taken_back(owner: FlaskClient, path: str, clock: Clock) -> None:
    clock.forward(days=300)
    tap(owner, path, "ahead")
    clock.moment = START + timedelta(hours=1)
    assert owner.post("/entries/ahead/undo", data={"id": "undone"}).status_code == 303
    assert "By the clock of the server" not in owner.get("/").text


def test_the_lines_of_another_shop_say_nothing(
    owner: FlaskClient, stranger: FlaskClient, path: str, clock: Clock, db: Session
) -> None:
    clock.moment = START - timedelta(days=1)
    assert "By the clock of the server" not in stranger.get("/").text
    factories.anew(db)
    assert to_come(db, clock()) == START
