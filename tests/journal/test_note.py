"""Notes and hours written by hand."""

import re
from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.journal.steps import entries, tap
from webapp.journal.actions import labour_of, states
from webapp.shops.models import Shop


def test_notes_stand_on_an_operation_a_build_or_the_shop(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    operation = factories.operation(db, build)
    for path in (f"/operations/{operation.id}/note", f"/builds/{build.id}/note", "/journal/note"):
        assert owner.get(path).status_code == 200
        assert tap(owner, path, note="Tear-out at\r\nthe knot").status_code == 303
    found = {(line.operation_id, line.build_id) for line in entries(db, "noted")}
    assert found == {(operation.id, build.id), (None, build.id), (None, None)}
    assert {line.data["note"] for line in entries(db)} == {"Tear-out at\nthe knot"}


def test_an_empty_note_is_asked_for_again(owner: FlaskClient, db: Session, shop: Shop) -> None:
    answer = tap(owner, "/journal/note", note="  ")
    assert answer.status_code == 422
    assert "Nothing is written yet." in answer.text
    long = tap(owner, "/journal/note", note="x" * 5001)
    assert long.status_code == 422
    assert "x" * 5001 in long.text


def test_script_in_a_note_stays_text(owner: FlaskClient, db: Session, shop: Shop) -> None:
    tap(owner, "/journal/note", note="<script>alert(1)</script> 5/8″ ž")
    page = owner.get("/journal").text
    assert "&lt;script&gt;alert(1)&lt;/script&gt; 5/8″ ž" in page
    assert "<script>alert" not in page


def test_a_note_sent_twice_is_one(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the network went after the server had it, and the phone sends it again."""
    tap(owner, "/journal/note", "n", note="once")
    assert tap(owner, "/journal/note", "n", note="once").status_code == 303
    assert len(entries(db)) == 1


def test_strangers_write_nothing_here(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    operation = factories.operation(db, build)
    for path in (f"/operations/{operation.id}/note", f"/builds/{build.id}/note", f"/builds/{build.id}/hours"):
        assert tap(stranger, path, note="x").status_code == 404
        assert stranger.get(path).status_code == 404
    assert stranger.get(f"/operations/{operation.id}/hours").status_code == 404
    assert entries(db) == []


def test_hours_are_filled_in_by_one_line(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    operation = factories.operation(db, build, name="Mill")
    assert "Mill" in owner.get(f"/operations/{operation.id}/hours").text
    typed = {"operation": operation.id, "minutes": "1:30", "day": "2026-02-02", "note": "from memory"}
    assert tap(owner, f"/operations/{operation.id}/hours", "h", **typed).status_code == 303
    assert tap(owner, f"/builds/{build.id}/hours", "h", **typed).status_code == 303
    [line] = entries(db, "worked")
    assert line.data == {"minutes": 90, "day": "2026-02-02", "note": "from memory"}
    db.rollback()
    [stretch] = labour_of(db, shop, START, build_id=build.id).stretches
    assert (stretch.remembered, stretch.end - stretch.start) == (True, timedelta(minutes=90))
    assert "1 h 30 min remembered" in owner.get("/journal").text


def test_hours_may_say_that_it_is_done(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    operation = factories.operation(db, build)
    typed = {"operation": operation.id, "minutes": "45", "day": "2026-02-03", "is_done": "y"}
    tap(owner, f"/builds/{build.id}/hours", **typed)
    db.rollback()
    state = states(db, [operation], START)[operation.id]
    assert (state.state.value, state.worked_minutes) == ("done", 45)


def test_hours_that_cannot_be_come_back_as_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    wrong = {"operation": 0, "minutes": "25 h", "day": "2026-02-05", "note": "kept"}
    answer = tap(owner, f"/builds/{build.id}/hours", **wrong)
    assert answer.status_code == 422
    assert "at a time" in answer.text
    assert "still to come" in answer.text
    assert 'value="kept"' in answer.text
    other = factories.operation(db, factories.build(db, shop, "Another"))
    answer = tap(owner, f"/builds/{build.id}/hours", operation=other.id, minutes="45", day="2026-02-03")
    assert answer.status_code == 422
    assert entries(db) == []


@pytest.mark.parametrize("taken", ["", "x" * 300, "photo-1", "7f.early", "a\0b", "é"])
def test_an_id_that_no_page_makes_gives_way_to_a_new_one(
    owner: FlaskClient, db: Session, shop: Shop, taken: str
) -> None:
    """The line of a photo that is still to come cannot be written before it."""
    for _ in range(2):
        assert owner.post("/journal/note", data={"id": taken, "note": "Tear-out."}).status_code == 303
    ids = [line.id for line in entries(db, "noted")]
    assert len(set(ids)) == 2
    assert taken not in ids


def test_hours_are_not_put_right_into_a_day_to_come(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    tap(owner, f"/builds/{build.id}/hours", "h1", operation=0, minutes="10", day="2026-02-03")
    answer = tap(owner, "/entries/h1/edit", at="2026-02-03T10:00", minutes="10", day="2026-02-04")
    assert answer.status_code == 422
    assert "still to come" in answer.text


def test_the_page_that_asks_carries_the_id_of_the_line(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: sent twice from the page, by a double tap or on weak Wi-Fi, a note is one line."""
    typed = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', owner.get("/journal/note").text))
    for _ in range(2):
        assert owner.post("/journal/note", data=typed | {"note": "The glue is low"}).status_code == 303
    assert len(entries(db)) == 1
