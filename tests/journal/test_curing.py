"""A piece that is delivered, or has nothing left to do, says when it is cured and what it needs until then."""

from datetime import UTC, date, datetime

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.journal.steps import tap
from webapp.builds.models import Build, Operation
from webapp.shops.models import Shop

SUNDAY = datetime(2026, 5, 3, 16, 0, tzinfo=UTC)
CARE = "Until then: use it lightly: no mats or cloths left lying on it, nothing hot or wet, no wax or polish."


def varnished(db: Session, shop: Shop, **values: object) -> tuple[Build, Operation]:
    """A table with its last coat: dry to the touch in two days, cured in thirty."""
    stages = [{"name": "dust free", "hours": 48}, {"name": "full cure", "hours": 720}]
    varnish = factories.product(db, shop, "varnish", "finish", stages=stages)
    build = factories.build(db, shop, "Table", **values)
    return build, factories.operation(db, build, "coat", name="Last coat", product_id=varnish.id)


def test_a_delivered_table_says_when_it_is_cured_and_what_it_needs(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """TA09: last coat Sun 3 May, delivered on Sun 10 May, cured on 2 June; a finisher's page."""
    clock.moment = SUNDAY
    build, coat = varnished(db, shop)
    tap(owner, f"/operations/{coat.id}/done")
    clock.moment = datetime(2026, 5, 10, 14, 0, tzinfo=UTC)
    db.rollback()
    build.status, build.delivered_on = "delivered", date(2026, 5, 10)
    db.commit()
    for who in (owner, helper):
        page = who.get(f"/builds/{build.id}").text
        assert "<b>Fully cured Tue 2 June.</b>" in page
        assert CARE in page
    clock.moment = datetime(2026, 6, 3, 14, 0, tzinfo=UTC)
    page = owner.get(f"/builds/{build.id}").text
    assert "Fully cured since Tue 2." in page
    assert "Until then" not in page


def test_a_piece_with_nothing_left_to_do_says_it_too(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA09: it is said before it is delivered, so that it can be told at the door; not while there is work left."""
    clock.moment = SUNDAY
    build, coat = varnished(db, shop)
    last = factories.operation(db, build, "wax", name="Buff it")
    tap(owner, f"/operations/{coat.id}/done")
    assert "Until then" not in owner.get(f"/builds/{build.id}").text
    tap(owner, f"/operations/{last.id}/done")
    page = owner.get(f"/builds/{build.id}").text
    assert page.count("Fully cured") == 1
    assert CARE in page


def test_glue_that_still_gains_strength_is_not_to_be_loaded(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    clock.moment = SUNDAY
    build = factories.build(db, shop, "Chair")
    glue = factories.operation(db, build, "glue-up", product_id=factories.product(db, shop).id)
    tap(owner, f"/operations/{glue.id}/done")
    page = owner.get(f"/builds/{build.id}").text
    assert "Until then: do not load its joints." in page
    clock.forward(hours=25)
    assert "Fully cured" not in owner.get(f"/builds/{build.id}").text


def test_a_piece_without_waits_says_nothing(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, "Shelf", status="delivered", delivered_on=date(2026, 1, 10))
    factories.operation(db, build, "mill")
    assert "ured" not in owner.get(f"/builds/{build.id}").text.replace("Measured", "")
