"""Starting an operation: one tap, one clock a person, and a reason where it is too early."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, glue_up, tap
from webapp.journal.actions import labour_of, states
from webapp.shops.models import Shop


def test_one_tap_starts_it(owner: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop), "groove", name="Groove the stiles")
    answer = tap(owner, f"/operations/{operation.id}/start", next=f"/builds/{operation.build_id}")
    assert (answer.status_code, answer.location) == (303, f"/builds/{operation.build_id}")
    [line] = entries(db)
    assert (line.kind, line.operation_id, line.build_id, line.at) == (
        "started",
        operation.id,
        operation.build_id,
        START,
    )
    assert "Groove the stiles: in hand since 14:18." in owner.get("/").text


def test_a_helper_starts_it_on_a_clock_of_his_own(helper: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop))
    tap(helper, f"/operations/{operation.id}/start")
    assert entries(db)[0].maker_id == factories.maker(db, shop, "Ben").id


def test_it_does_not_exist_for_strangers(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop))
    assert tap(stranger, f"/operations/{operation.id}/start").status_code == 404
    assert stranger.get(f"/operations/{operation.id}/start").status_code == 404
    assert entries(db) == []


def test_sent_twice_it_is_stored_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the same line again gets the same answer, and there is one row."""
    operation = factories.operation(db, factories.build(db, shop))
    first = tap(owner, f"/operations/{operation.id}/start", "tap-1", next="/journal")
    again = tap(owner, f"/operations/{operation.id}/start", "tap-1", next="/journal")
    assert (first.status_code, first.location) == (again.status_code, again.location) == (303, "/journal")
    assert [line.id for line in entries(db)] == ["tap-1"]


def test_two_phones_start_one_timer(owner: FlaskClient, app, db: Session, shop: Shop, clock: Clock) -> None:  # type: ignore[no-untyped-def]
    """SA09: the same person starts the same operation on phone and desktop."""
    operation = factories.operation(db, factories.build(db, shop))
    desk = factories.client_of(app, db, shop, "Ada")
    tap(owner, f"/operations/{operation.id}/start")
    clock.forward(minutes=5)
    answer = tap(desk, f"/operations/{operation.id}/start")
    assert answer.status_code == 303
    assert len(entries(db, "started")) == 1
    db.rollback()
    state = states(db, [operation], clock.forward(minutes=5))[operation.id]
    assert (len(state.spans), state.worked_minutes) == (1, 10)


def test_another_clock_is_asked_about_and_paused(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA27: starting B offers to stop A, which is the first of the buttons."""
    build = factories.build(db, shop)
    first, second = factories.operation(db, build, "groove", name="Groove"), factories.operation(db, build, "sand")
    tap(owner, f"/operations/{first.id}/start")
    clock.forward(hours=2)
    asked = tap(owner, f"/operations/{second.id}/start", "b")
    assert asked.status_code == 303
    page = owner.get(asked.location).text
    assert page.index("Pause Groove and start") < page.index("Start beside it")
    tap(owner, f"/operations/{second.id}/start", "b", others="pause")
    tap(owner, f"/operations/{second.id}/start", "b", others="pause")
    db.rollback()
    found = states(db, [first, second], clock.moment)
    assert (found[first.id].state.value, found[first.id].worked_minutes) == ("paused", 120)
    assert found[second.id].state.value == "in hand"
    assert [line.kind for line in entries(db)] == ["started", "started", "paused"]


def test_beside_each_other_no_minute_is_counted_twice(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA27: two clocks at once cannot make the day longer than it was."""
    clock.moment = START - timedelta(hours=5, minutes=18)
    build = factories.build(db, shop)
    first, second = factories.operation(db, build, "groove"), factories.operation(db, build, "sand")
    tap(owner, f"/operations/{first.id}/start")
    clock.forward(hours=2)
    tap(owner, f"/operations/{second.id}/start", others="beside")
    clock.forward(hours=1)
    tap(owner, f"/operations/{second.id}/done")
    tap(owner, f"/operations/{first.id}/pause")
    db.rollback()
    labour = labour_of(db, shop, clock.moment)
    booked = sum((stretch.end - stretch.start for stretch in labour.stretches), timedelta())
    assert booked == timedelta(hours=3)
    assert len(labour.overlaps) == 1


def test_too_early_a_reason_is_asked_for_once(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, plane = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/done")
    clock.forward(hours=2)
    asked = tap(owner, f"/operations/{plane.id}/start")
    assert asked.status_code == 303
    page = owner.get(asked.location).text
    assert "Glue up the top: ready to plane from Tue 10 February, 14:18, in 6 days 22 h" in page
    empty = tap(owner, f"/operations/{plane.id}/start", reason="")
    assert empty.status_code == 422
    assert "why it cannot wait" in empty.text
    tap(owner, f"/operations/{plane.id}/start", reason="rough flattening, 2 mm left")
    lines = entries(db, "started", "overruled")
    assert [line.data for line in lines] == [
        {"early": "rough flattening, 2 mm left"},
        {"flag": "too-early", "reason": "rough flattening, 2 mm left"},
    ]
    assert "Started too early: rough flattening, 2 mm left" in owner.get("/").text
    clock.forward(minutes=5)
    tap(owner, f"/operations/{plane.id}/pause")
    assert tap(owner, f"/operations/{plane.id}/start").location == "/"
    assert len(entries(db, "resumed")) == 1


def test_planing_waits_seven_days_for_the_glue_line(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA03: out of clamps is not ready to plane; flagged on the day and a week later before the hour, then clear."""
    glue, plane = glue_up(db, shop)
    clock.moment = START.replace(day=2, hour=15, minute=0)  # Mon 2 Feb 10:00 in New York
    tap(owner, f"/operations/{glue.id}/done")
    for days, hours, is_clear in ((0, 4, False), (7, -1, False), (7, 0, True)):
        clock.moment = START.replace(day=2, hour=15, minute=0) + timedelta(days=days, hours=hours)
        page = owner.get(f"/operations/{plane.id}/start").text
        assert ("Too early" not in page) is is_clear, (days, hours)
        if not is_clear:
            assert "10:00" in page


def test_the_second_half_waits_for_the_clamps_of_the_first(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA04: each part of a glue-up in two has a wait of its own, and the second needs the first one's clamps."""
    product = factories.product(db, shop)
    build = factories.build(db, shop)
    first = factories.operation(db, build, "pairs", name="Glue the pairs", kind="glue-up", product_id=product.id)
    second = factories.operation(
        db,
        build,
        "rails",
        name="Glue the rails",
        kind="glue-up",
        product_id=product.id,
        after=[(first, "out of clamps")],
    )
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(minutes=40)
    assert "Glue the pairs: out of clamps from 15:18, in 20 min" in owner.get(f"/operations/{second.id}/start").text
    clock.forward(minutes=20)
    assert tap(owner, f"/operations/{second.id}/start").location == "/"
    clock.forward(minutes=10)
    tap(owner, f"/operations/{second.id}/done")
    assert "Glue the rails comes out of clamps" in owner.get("/").text
    assert "16:28" in owner.get("/").text


def test_a_window_with_a_hole_in_it(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA05: within 2 h, or after 72 h and sanding; in between it is closed and says when it opens again."""
    windows = [{"from_hours": 0, "to_hours": 2}, {"from_hours": 72, "needs": ["sand"]}]
    varnish = factories.product(db, shop, "varnish", "finish", stages=[], recoat=windows)
    build = factories.build(db, shop)
    one = factories.operation(db, build, "coat1", name="Coat 1", kind="coat", product_id=varnish.id)
    sand = factories.operation(db, build, "sand", name="Sand between")
    two = factories.operation(db, build, "coat2", name="Coat 2", kind="coat", product_id=varnish.id, over_id=one.id)
    friday = START.replace(day=13, hour=14, minute=0)  # 09:00 in New York
    clock.moment = friday
    tap(owner, f"/operations/{one.id}/done")

    def page(**later: float) -> str:
        clock.moment = friday + timedelta(**later)
        return owner.get(f"/operations/{two.id}/start").text

    assert "Too early" not in page(hours=1, minutes=30)
    assert "the recoat window is closed, open again from Mon 16, 09:00" in page(hours=5)
    assert "open again from 09:00, in 1 h" in page(days=3, hours=-1)
    assert "Not yet.</b> Coat 1: sand before the next layer" in page(days=3)
    tap(owner, f"/operations/{sand.id}/done")
    assert "Too early" not in page(days=3, minutes=30)


def test_an_earlier_time_is_remembered_and_one_to_come_refused(owner: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop))
    late = tap(owner, f"/operations/{operation.id}/start", at="2026-02-03T15:00")
    assert late.status_code == 422
    assert "still to come" in late.text
    assert 'value="2026-02-03T15:00"' in late.text
    tap(owner, f"/operations/{operation.id}/start", at="2026-02-03T13:30")
    [line] = entries(db)
    assert (line.at, line.data) == (START - timedelta(minutes=48), {"remembered": True})
