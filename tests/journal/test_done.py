"""Done, tight clamps, and the wait that begins with them."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, glue_up, tap
from webapp.journal.actions import waits
from webapp.products.models import Figures, Product
from webapp.shops.models import Shop


def test_done_asks_nothing_and_ends_the_clock(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    operation = factories.operation(db, factories.build(db, shop), "groove", name="Groove")
    tap(owner, f"/operations/{operation.id}/start")
    clock.forward(minutes=47)
    assert tap(owner, f"/operations/{operation.id}/done").status_code == 303
    page = owner.get("/").text
    assert "Groove: done 15:05." in page
    assert "The wait counts" not in page


def test_the_wait_begins_with_done_and_the_figures_of_that_day(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    glue, _ = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/done")
    assert "The wait counts from now." in owner.get("/").text
    [line] = entries(db, "done")
    product = db.get_one(Product, glue.product_id)
    assert line.data == {"figures": product.current.id}
    product.figures.append(
        Figures(number=2, data={"stages": [{"name": "out of clamps", "hours": 9}]}, source="x", at=START)
    )
    db.commit()
    [wait, *_] = waits(db, shop, START)
    assert (wait.stage, wait.end) == ("out of clamps", START + timedelta(hours=1))


def test_the_wait_begins_when_the_clamps_are_tight(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, _ = glue_up(db, shop)
    tap(owner, f"/operations/{glue.id}/start")
    clock.forward(minutes=20)
    tap(owner, f"/operations/{glue.id}/clamps")
    clock.forward(minutes=25)
    tap(owner, f"/operations/{glue.id}/done")
    db.rollback()
    [wait, *_] = waits(db, shop, clock.moment)
    assert wait.end == START + timedelta(minutes=80)
    assert "The wait counts from now" not in owner.get("/").text


def test_an_earlier_done_is_typed_and_not_before_the_start(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    operation = factories.operation(db, factories.build(db, shop))
    tap(owner, f"/operations/{operation.id}/start")
    clock.forward(hours=1)
    assert "When it was" in owner.get(f"/operations/{operation.id}/done").text
    refused = tap(owner, f"/operations/{operation.id}/done", at="2026-02-03T14:00")
    assert refused.status_code == 422
    assert "give a later time" in refused.text
    tap(owner, f"/operations/{operation.id}/done", at="2026-02-03T15:00")
    assert entries(db, "done")[0].at == START + timedelta(minutes=42)


def test_sent_twice_it_is_done_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: two taps on Done."""
    operation = factories.operation(db, factories.build(db, shop))
    for line_id in ("d1", "d1", "d2"):
        assert tap(owner, f"/operations/{operation.id}/done", line_id).status_code == 303
    assert [line.id for line in entries(db)] == ["d1"]


def test_helpers_may_and_strangers_may_not(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    operation = factories.operation(db, factories.build(db, shop))
    for verb in ("done", "clamps", "pause", "abandon", "count"):
        assert tap(stranger, f"/operations/{operation.id}/{verb}").status_code == 404
        assert stranger.get(f"/operations/{operation.id}/{verb}").status_code == 404
    assert tap(helper, f"/operations/{operation.id}/done").status_code == 303
    assert len(entries(db)) == 1


def test_after_oil_the_rags_are_spoken_of_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    oil = factories.product(db, shop, "pure tung oil", "finish", stages=[{"name": "light use", "hours": 336}])
    operation = factories.operation(db, factories.build(db, shop), "coat", name="Oil it", product_id=oil.id)
    tap(owner, f"/operations/{operation.id}/done")
    page = owner.get("/").text
    assert "Oily rags can catch fire by themselves" in page
    assert "Follow the label, local codes and licensed practice." in page
    assert "Oily rags" not in owner.get("/").text
