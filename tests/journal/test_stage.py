"""A wait's end asks: dry, tacky, wet, out of clamps."""

from datetime import UTC, datetime, timedelta
from typing import Any

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, glue_up, tap
from webapp.builds.models import Operation
from webapp.days.document import shop_document
from webapp.journal.actions import states, waits
from webapp.shops.models import Shop


def oiled(db: Session, shop: Shop) -> tuple[Operation, Operation]:
    """Two coats of oil, 24 h from one to the next, in a shop that is warm at night too."""
    shop.climate_night = 20.0
    oil = factories.product(
        db, shop, "tung oil", "finish", stages=[{"name": "light use", "hours": 336}], recoat=[{"from_hours": 24}]
    )
    build = factories.build(db, shop, "Cherry doors")
    first = factories.operation(db, build, "oil1", name="First oil", kind="coat", product_id=oil.id)
    second = factories.operation(db, build, "oil2", name="Second oil", kind="coat", product_id=oil.id, over_id=first.id)
    return first, second


def test_the_end_asks_and_an_answer_of_tacky_moves_it(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA07: the end of 24 h opens a question, ticks nothing, and keeps every test."""
    first, second = oiled(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=25)
    page = owner.get("/").text
    assert "First oil: dry?" in page
    assert "24 h, up at 14:18" in page
    asked = tap(owner, f"/operations/{first.id}/stage", stage="dry", answer="tacky")
    assert asked.status_code == 303
    assert "First oil: tacky. Look again when?" in owner.get(asked.location).text
    tap(owner, f"/operations/{first.id}/stage", "t1", stage="dry", answer="tacky", **{"in": "720"})
    page = owner.get("/").text
    assert "First oil: dry?" not in page
    assert "Second oil" in page
    assert "in 12 h" in page
    assert "First oil was not dry: look again from Thu 5, 03:18" in owner.get(f"/operations/{second.id}/start").text
    clock.forward(hours=12)
    assert "First oil: dry?" in owner.get("/").text
    tap(owner, f"/operations/{first.id}/stage", stage="dry", answer="dry")
    assert "First oil: dry?" not in owner.get("/").text
    db.rollback()
    tests = states(db, [first], clock.moment)[first.id].tests
    assert [test.answer for test in tests] == ["tacky", "dry"]
    assert tap(owner, f"/operations/{second.id}/start").location == "/"


def test_a_time_to_look_again_may_be_typed_and_must_be_to_come(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    first, _ = oiled(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=25)
    path = f"/operations/{first.id}/stage"
    late = tap(owner, path, stage="dry", answer="wet", again_at="2026-02-04T10:00")
    assert late.status_code == 422
    assert "a time to come" in late.text
    assert 'value="2026-02-04T10:00"' in late.text
    tap(owner, path, stage="dry", answer="wet", again_at="2026-02-05T10:00")
    [line] = entries(db, "dry-tested")
    assert line.data["again_at"] == datetime(2026, 2, 5, 15, tzinfo=UTC).isoformat()


def test_out_of_clamps_is_said_or_put_off(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, _ = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/done")
    clock.forward(minutes=61)
    assert "Glue up the top: out of clamps?" in owner.get("/").text
    tap(owner, f"/operations/{glue.id}/stage", stage="out of clamps", answer="not yet", **{"in": "60"})
    db.rollback()
    [clamped, resting] = waits(db, shop, clock.moment)
    assert (clamped.words, clamped.end) == ("Leave in clamps", START + timedelta(minutes=121))
    assert (resting.words, resting.end) == ("Ready to plane", START + timedelta(days=7))
    clock.forward(minutes=60)
    tap(owner, f"/operations/{glue.id}/stage", stage="out of clamps", answer="reached")
    db.rollback()
    assert [wait.stage for wait in waits(db, shop, clock.moment)] == ["ready to plane"]


def test_what_it_never_had_cannot_be_answered(owner: FlaskClient, db: Session, shop: Shop) -> None:
    glue, _ = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/done")
    assert tap(owner, f"/operations/{glue.id}/stage", stage="polished", answer="dry").status_code == 400
    assert tap(owner, f"/operations/{glue.id}/stage", stage="out of clamps", answer="maybe").status_code == 400
    assert tap(owner, f"/operations/{glue.id}/stage").status_code == 422
    assert entries(db, "dry-tested") == []


def test_strangers_see_none_of_it(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    glue, _ = glue_up(db, shop)
    answer = tap(stranger, f"/operations/{glue.id}/stage", stage="out of clamps", answer="reached")
    assert answer.status_code == 404
    assert stranger.get(f"/operations/{glue.id}/stage").status_code == 404
    assert tap(stranger, f"/operations/{glue.id}/tended", key="wipe").status_code == 404


def test_tending_is_asked_for_in_its_time(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    tend = [{"key": "wipe", "at_minutes": 20, "within_minutes": 10, "minutes": 15}]
    oil = factories.product(db, shop, "oil", "finish", stages=[{"name": "light use", "hours": 72}], tend=tend)
    operation = factories.operation(db, factories.build(db, shop), "coat", name="Oil it", product_id=oil.id)
    tap(owner, f"/operations/{operation.id}/done")
    page = owner.get("/").text
    assert "Oil it: wipe it off" in page
    assert "14:38" in page
    clock.forward(minutes=22)
    assert "by 14:48" in owner.get("/").text
    tap(owner, f"/operations/{operation.id}/tended", "w", key="wipe")
    tap(owner, f"/operations/{operation.id}/tended", "w", key="wipe")
    tap(owner, f"/operations/{operation.id}/tended", key="wipe")
    assert [line.data for line in entries(db, "tended")] == [{"key": "wipe"}]
    assert "by 14:48" not in owner.get("/").text


def test_a_span_that_no_button_offers_asks_again(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    first, _ = oiled(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=25)
    for span in ("9" * 30, "-60", "1e9"):
        asked = tap(owner, f"/operations/{first.id}/stage", stage="dry", answer="tacky", again_at="", **{"in": span})
        assert asked.status_code == 422
        assert "Say when to look again" in asked.text


def coated(db: Session, shop: Shop, name: str, use: str, **figures: Any) -> tuple[Operation, Operation]:
    """A coat, and the next one over it."""
    label = factories.product(db, shop, name, use, **figures)
    build = factories.build(db, shop, "Bar top")
    first = factories.operation(db, build, "coat1", name="Coat 1", kind="coat", product_id=label.id)
    over = factories.operation(
        db, build, "coat2", name="Coat 2", kind="coat", product_id=label.id, over_id=first.id, minutes=30
    )
    return first, over


def epoxied(db: Session, shop: Shop) -> tuple[Operation, Operation]:
    """Epoxy: the next coat while tacky, from 2 to 6 h; after that washed and sanded, from 20 h on."""
    windows = [{"from_hours": 2, "to_hours": 6}, {"from_hours": 20, "needs": ["wash", "sand"]}]
    return coated(db, shop, "epoxy", "glue", stages=[{"name": "out of clamps", "hours": 24}], recoat=windows)


def test_epoxy_is_asked_whether_it_is_tacky_and_tacky_lets_the_next_coat_on(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA15: tacky is as it should be; the next coat may go on till the window shuts, and nothing is put off."""
    first, second = epoxied(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    page = owner.get("/").text
    assert "Leave in clamps" not in page  # a coat is in none
    clock.forward(hours=3)
    page = owner.get("/").text
    assert "Coat 1: tacky?" in page
    assert "tissue" not in page
    assert "Coat 2 may go on as it is until 20:18; after that wash, then sand." in page
    answer = tap(owner, f"/operations/{first.id}/stage", stage="tacky", answer="tacky")
    assert answer.location == "/"
    page = owner.get("/").text
    assert "Coat 1: tacky as it should be 17:18." in page
    assert "Coat 1: tacky?" not in page
    assert "Tacky as it should be: Coat 2 may go on until 20:18; after that wash, then sand." in page
    assert "Tacky as it should be: Coat 2 may go on" in owner.get(f"/builds/{first.build_id}").text
    db.rollback()
    assert [(one.stage, one.answer) for one in states(db, [first], clock.moment)[first.id].tests] == []
    assert shop_document(db, shop.id, clock.moment).document.builds[0].operations[1].not_before is None
    start = owner.get(f"/operations/{second.id}/start").text
    assert "Not yet." not in start
    assert "Too early." not in start


def test_wet_epoxy_is_looked_at_again_before_its_window_shuts(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA15: an answer of still wet does not push the next coat past the window that it has to meet."""
    first, second = epoxied(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=3)
    path = f"/operations/{first.id}/stage"
    asked = owner.get(f"{path}?stage=tacky&answer=wet").text
    assert "look again before then" in asked
    assert [text in asked for text in ("in 15 min", "in 2 h", "in 4 h", "in 24 h")] == [True, True, False, False]
    late = tap(owner, path, stage="tacky", answer="wet", **{"in": "240"})
    assert late.status_code == 422
    assert "Before 20:18, please" in late.text
    assert tap(owner, path, stage="tacky", answer="wet", **{"in": "30"}).location == "/"
    assert "Coat 1 was still wet: look again from 17:48" in owner.get(f"/operations/{second.id}/start").text
    clock.forward(minutes=30)
    assert "Coat 1: tacky?" in owner.get("/").text


def test_hard_epoxy_is_washed_then_sanded(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA15: what the touch says counts, not the clock; next day it is asked for hard, and wants both in that order."""
    first, second = epoxied(db, shop)
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=3)
    tap(owner, f"/operations/{first.id}/stage", stage="tacky", answer="dry")
    page = owner.get("/").text
    assert "Hard already: wash, then sand before Coat 2." in page
    assert "wash, then sand before the next layer" in owner.get(f"/operations/{second.id}/start").text
    assert "Looked: hard already" in owner.get(f"/builds/{first.build_id}").text
    clock.forward(hours=18)
    page = owner.get("/").text
    assert "Coat 1: hard?" in page
    assert "A thumbnail leaves no mark. Wash, then sand before Coat 2." in page
    tap(owner, f"/operations/{first.id}/stage", stage="dry", answer="dry")
    assert "wash, then sand before the next layer" in owner.get(f"/operations/{second.id}/start").text


def test_a_film_dry_before_its_window_is_asked_for_dry_once(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA15: tacky is right for epoxy only; a waterborne film in its window, from 4 to 24 h, has to be dry."""
    stages = [{"name": "dust free", "hours": 1}, {"name": "light use", "hours": 48}]
    windows = [{"from_hours": 4, "to_hours": 24}, {"from_hours": 24, "needs": ["sand"]}]
    first, _ = coated(db, shop, "waterborne", "finish", stages=stages, recoat=windows, dust_free="dust free")
    tap(owner, f"/operations/{first.id}/done")
    clock.forward(hours=5)
    page = owner.get("/").text
    assert "Coat 1: dry?" in page
    assert "clean means dry" in page
    tap(owner, f"/operations/{first.id}/stage", stage="dry", answer="dry")
    assert "Coat 1: dry?" not in owner.get("/").text
