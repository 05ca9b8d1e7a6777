"""A plan is worked out anew as soon as anything is written, and after five minutes."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.builds.models import Build
from webapp.days import actions
from webapp.shops.models import Shop


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The shops whose plans were worked out."""
    found: list[int] = []
    work = actions._made

    def counted(db: Session, shop_id: int, now: object) -> object:
        found.append(shop_id)
        return work(db, shop_id, now)  # type: ignore[arg-type]

    monkeypatch.setattr(actions, "_made", counted)
    return found


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    found = factories.build(db, shop, status="in the making")
    factories.operation(db, found, "mill")
    db.commit()
    return found


def test_a_plan_is_kept_for_five_minutes(owner: FlaskClient, build: Build, clock: Clock, worked_out: list[int]) -> None:
    for address in ("/days", f"/builds/{build.id}", "/builds"):
        assert "Mill" in owner.get("/days").text
        owner.get(address)
    clock.forward(minutes=4, seconds=59)
    owner.get("/days")
    assert len(worked_out) == 1
    clock.forward(seconds=1)
    owner.get("/days")
    assert len(worked_out) == 2
    clock.moment -= timedelta(hours=1)  # a clock that was put right
    owner.get("/days")
    assert len(worked_out) == 3


def test_what_is_written_is_in_the_plan_at_once(
    owner: FlaskClient, build: Build, db: Session, worked_out: list[int]
) -> None:
    before, mill = owner.get("/days").text, build.operations[0].id
    db.commit()
    owner.post(f"/operations/{mill}/start", data={"id": "a" * 32})
    owner.post(f"/operations/{mill}/done", data={"id": "b" * 32})
    assert ">Mill</a>" in before
    assert ">Mill</a>" not in owner.get("/days").text
    factories.operation(db, build, "groove")
    db.commit()
    assert "Groove" in owner.get("/days").text
    assert len(worked_out) == 3


def test_each_shop_has_its_own_plan(
    owner: FlaskClient, stranger: FlaskClient, build: Build, worked_out: list[int]
) -> None:
    assert "Mill" in owner.get("/days").text
    assert "Mill" not in stranger.get("/days").text
    assert len(set(worked_out)) == 2
