from datetime import UTC, datetime

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.shops.models import Shop


def test_an_operation_is_deleted(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, done_at=[{"operation": "coat", "stage": "light use"}])
    mill = factories.operation(db, build, "mill")
    coat = factories.operation(db, build, "coat", after=[mill])
    assert "Delete Coat ?" in typed.text(helper.get(f"/operations/{coat.id}/delete"))
    answer = helper.post(f"/operations/{coat.id}/delete")
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}")
    assert [one.key for one in typed.stored(db, Operation)] == ["mill"]
    assert typed.stored(db, Build)[0].done_at is None


def test_one_that_others_count_on_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    factories.operation(db, build, "glue", after=[mill])
    factories.operation(db, build, "coat", over_id=mill.id)
    assert "2 operations count on it" in typed.text(owner.get(f"/operations/{mill.id}/delete"))
    answer = owner.post(f"/operations/{mill.id}/delete")
    assert answer.status_code == 409
    assert "Glue" in answer.text
    assert len(typed.stored(db, Operation)) == 3


def test_one_with_a_record_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    factories.entry(db, factories.maker(db, shop, "Ada"), "started", datetime(2026, 2, 1, tzinfo=UTC), on=mill)
    assert "the record only grows" in owner.get(f"/operations/{mill.id}/delete").text
    assert owner.post(f"/operations/{mill.id}/delete").status_code == 409
    assert len(typed.stored(db, Operation)) == 1


def test_a_stranger_gets_nowhere(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    assert stranger.get(f"/operations/{mill.id}/delete").status_code == 404
    assert stranger.post(f"/operations/{mill.id}/delete").status_code == 404
    assert len(typed.stored(db, Operation)) == 1
