"""Taking lines back and putting them right; nothing is ever lost."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, glue_up, tap
from webapp.journal.actions import states
from webapp.shops.models import Shop


def test_every_verb_offers_to_be_taken_back(owner: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop), name="Mill")
    tap(owner, f"/operations/{operation.id}/done", "d")
    assert 'action="/entries/d/undo"' in owner.get("/").text
    tap(owner, "/entries/d/undo", "u")
    assert "Taken back: Done, Mill." in owner.get("/").text
    db.rollback()
    assert states(db, [operation], START)[operation.id].state.value == "not started"
    assert [line.kind for line in entries(db)] == ["done", "withdrawn"]
    tap(owner, "/entries/u/undo", "uu")
    db.rollback()
    assert states(db, [operation], START)[operation.id].state.value == "done"


def test_a_start_is_taken_back_with_all_it_did(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """The other clock that was paused for it runs on, and the reason for being early goes too."""
    build = factories.build(db, shop)
    first = factories.operation(db, build, "groove")
    second = factories.operation(db, build, "sand", after=[first])
    tap(owner, f"/operations/{first.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{second.id}/start", "s", others="pause", reason="light is good")
    tap(owner, "/entries/s/undo", "u")
    clock.forward(minutes=10)
    db.rollback()
    found = states(db, [first, second], clock.moment)
    assert (found[first.id].state.value, found[first.id].worked_minutes) == ("in hand", 40)
    assert (found[second.id].state.value, found[second.id].overruled) == ("not started", {})
    tap(owner, "/entries/u/undo")
    db.rollback()
    found = states(db, [first, second], clock.moment)
    assert [found[one.id].state.value for one in (first, second)] == ["paused", "in hand"]


def test_taken_back_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: two taps on Undo."""
    tap(owner, "/journal/note", "n", note="a slip")
    tap(owner, "/entries/n/undo", "u")
    tap(owner, "/entries/n/undo", "u")
    tap(owner, "/entries/n/undo", "u2")
    assert [line.id for line in entries(db)] == ["n", "u"]


def test_strangers_take_nothing_back(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    tap(owner, "/journal/note", "n", note="ours")
    assert tap(stranger, "/entries/n/undo").status_code == 404
    assert stranger.get("/entries/n/edit").status_code == 404
    assert tap(stranger, "/entries/n/edit", note="theirs").status_code == 404
    assert len(entries(db)) == 1


def test_an_id_of_another_shop_is_not_answered(
    owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    tap(owner, "/journal/note", "n", note="a walnut secret")
    tap(stranger, "/journal/note", "n", note="theirs")
    assert [line.data["note"] for line in entries(db)] == ["a walnut secret"]
    assert "walnut" not in stranger.get("/journal").text


def test_a_line_is_put_right_by_another(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, _ = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/done", "d")
    clock.forward(minutes=30)
    assert 'value="2026-02-03T14:18"' in owner.get("/entries/d/edit").text
    later = tap(owner, "/entries/d/edit", at="2026-02-03T15:30")
    assert later.status_code == 422
    tap(owner, "/entries/d/edit", "e", at="2026-02-03T13:50", why="forgot to tap")
    db.rollback()
    state = states(db, [glue], clock.moment)[glue.id]
    assert state.finished == START - timedelta(minutes=28)
    assert state.figures is not None
    assert [line.corrects for line in entries(db)] == [None, "d"]
    page = owner.get("/journal").text
    assert "before: 14:18" in page
    assert "put right: forgot to tap" in page
    assert page.count("Glue up the top") == 1


def test_a_corrected_line_is_corrected_again_and_taken_back(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    tap(owner, "/journal/note", "n", note="first")
    clock.forward(minutes=1)
    tap(owner, "/entries/n/edit", at="2026-02-03T14:18", note="second")
    clock.forward(minutes=1)
    assert "second" in owner.get("/entries/n/edit").text
    tap(owner, "/entries/n/edit", at="2026-02-03T14:18", note="third")
    page = owner.get("/journal").text
    assert '<p class="note">third</p>' in page
    clock.forward(minutes=1)
    tap(owner, "/entries/n/undo", "u")
    page = owner.get("/journal").text
    assert "taken back 14:21" in page
    assert "Bring back" in page
    tap(owner, "/entries/u/undo")
    assert "taken back" not in owner.get("/journal").text
