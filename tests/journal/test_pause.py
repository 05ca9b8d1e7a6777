"""Pausing, counting a batch, abandoning."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.journal.steps import entries, glue_up, tap
from webapp.journal.actions import labour_of, states, waits
from webapp.shops.models import Shop


def test_pausing_stops_only_ones_own_clock(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    operation = factories.operation(db, factories.build(db, shop), name="Mill")
    tap(owner, f"/operations/{operation.id}/start")
    tap(helper, f"/operations/{operation.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{operation.id}/pause")
    assert "Mill: paused 14:48." in owner.get("/").text
    clock.forward(minutes=30)
    db.rollback()
    state = states(db, [operation], clock.moment)[operation.id]
    assert (state.state.value, state.worked_minutes) == ("in hand", 90)
    tap(owner, f"/operations/{operation.id}/pause")
    assert len(entries(db, "paused")) == 1


def test_a_batch_is_counted(owner: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop), "shape", name="Shape the legs", count=24)
    assert "How many of 24 are done?" in owner.get(f"/operations/{operation.id}/count").text
    too_many = tap(owner, f"/operations/{operation.id}/count", done="25")
    assert too_many.status_code == 422
    assert "There are 24 of them." in too_many.text
    assert 'value="25"' in too_many.text
    assert tap(owner, f"/operations/{operation.id}/count", done="some").status_code == 422
    tap(owner, f"/operations/{operation.id}/count", "c", done="15")
    tap(owner, f"/operations/{operation.id}/count", "c", done="15")
    assert [line.data for line in entries(db)] == [{"done": 15}]
    assert "15 of 24 done" in owner.get("/").text


def test_abandoned_nothing_cures_and_the_hours_stay(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, plane = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/start")
    tap(owner, f"/operations/{glue.id}/clamps")
    clock.forward(minutes=40)
    empty = tap(owner, f"/operations/{glue.id}/abandon", reason="")
    assert empty.status_code == 422
    tap(owner, f"/operations/{glue.id}/abandon", reason="glue skinned over")
    db.rollback()
    assert waits(db, shop, clock.moment) == []
    [stretch] = labour_of(db, shop, clock.moment, build_id=glue.build_id).stretches
    assert (stretch.end - stretch.start).total_seconds() == 40 * 60
    assert "Glue up the top was abandoned: do it again first" in owner.get(f"/operations/{plane.id}/start").text
    factories.operation(db, glue.build, "glue2", name="Glue it again", again_for_id=glue.id)
    assert "Glue it again is not done" in owner.get(f"/operations/{plane.id}/start").text


def test_waiting_is_never_charged(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA18: three coats of 20 min with a day between cost 1 h, whatever the waits; and they hold nobody's clock."""
    varnish = factories.product(db, shop, "varnish", "finish", stages=[{"name": "dust free", "hours": 24}])
    build = factories.build(db, shop)
    below = None
    for number in range(3):
        after = [(below, "dust free")] if below else []
        coat = factories.operation(db, build, f"coat{number}", kind="coat", product_id=varnish.id, after=after)
        tap(owner, f"/operations/{coat.id}/start")
        clock.forward(minutes=20)
        tap(owner, f"/operations/{coat.id}/done")
        clock.forward(hours=24)
        below = coat
        db.rollback()
    db.rollback()
    labour = labour_of(db, shop, clock.moment, build_id=build.id)
    assert sum((s.end - s.start).total_seconds() for s in labour.stretches) == 3600
    assert labour.questions == ()
