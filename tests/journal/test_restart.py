"""Another server on the same database."""

from pathlib import Path

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import glue_up, tap
from webapp.app import create_app
from webapp.journal.models import Entry
from webapp.settings import Settings
from webapp.shops.models import HELPER, Shop


def another_server(engine: Engine, settings: Settings, clock: Clock) -> Flask:
    """The app made anew: whatever the first one had in its memory is gone."""
    app = create_app(settings, engine=engine, now=clock)
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    return app


def test_a_wait_outlives_the_server(
    owner: FlaskClient, engine: Engine, db: Session, shop: Shop, clock: Clock, settings: Settings
) -> None:
    """TA31: 4 h from 13:30; the phone is dead from 15:00, the server starts anew, at 18:10 everybody sees 17:30."""
    glue, _ = glue_up(db, shop, hours=4)
    clock.forward(minutes=-48)
    tap(owner, f"/operations/{glue.id}/done")
    db.rollback()
    clock.forward(hours=4, minutes=40)
    lines = db.scalar(select(func.count()).select_from(Entry))
    app = another_server(engine, settings, clock)
    for phone in (factories.client_of(app, db, shop, "Ada"), factories.client_of(app, db, shop, "Ben", HELPER)):
        page = phone.get("/").text
        assert "17:30" in page
        assert "40 min ago" in page
        assert f'data-alarm="{glue.id}:out of clamps' not in page
    db.rollback()
    assert db.scalar(select(func.count()).select_from(Entry)) == lines  # nothing was started anew


def test_a_running_clock_outlives_the_server(
    owner: FlaskClient, engine: Engine, db: Session, shop: Shop, clock: Clock, settings: Settings
) -> None:
    """TA31: labour too is counted from the stored instant; a sign-in and a page left open serve on."""
    operation = factories.operation(db, factories.build(db, shop), "groove", name="Groove")
    tap(owner, f"/operations/{operation.id}/start")
    db.rollback()
    clock.forward(minutes=47)
    app = another_server(engine, settings, clock)
    ada = factories.client_of(app, db, shop, "Ada")
    assert f'data-since="{START.isoformat(timespec="seconds")}" data-before="0">0:47<' in ada.get("/").text
    assert tap(ada, f"/operations/{operation.id}/done").status_code == 303


def test_the_secret_outlives_the_server(tmp_path: Path, engine: Engine, clock: Clock) -> None:
    """TA31: with a new secret everybody would be signed out by a power cut, and SA10: each open form be refused."""
    settings = Settings(instance=tmp_path / "kept")
    first, second = (create_app(settings, engine=engine, now=clock).secret_key for _ in range(2))
    assert first == second
    assert (settings.instance / "secret").stat().st_mode & 0o077 == 0
