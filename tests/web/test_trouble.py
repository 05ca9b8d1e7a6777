"""A disk that is full, a file that cannot be written, a database that stays busy: said on the page and in the log."""

import logging
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, event, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.disks import SmallDisk
from tests.disks import small_disk as small_disk
from tests.photos.sending import jpeg, photos, send
from webapp.db.engine import make_engine
from webapp.db.session import Sessions
from webapp.journal.models import Entry
from webapp.settings import Settings
from webapp.shops.models import Shop

NOTE = {"note": "Keep this <b>safe</b>", "id": "note-1", "next": "/journal"}


@pytest.fixture
def hasty(app: Flask, engine: Engine) -> Iterator[Engine]:
    """The app on an engine that waits a tenth of a second where it usually waits for five."""
    found = make_engine(engine.url.render_as_string(hide_password=False), busy_ms=100)
    app.extensions["sessions"] = Sessions(found)
    yield found
    found.dispose()


def notes(db: Session) -> list[str]:
    factories.anew(db)
    return [str(entry.data["note"]) for entry in db.scalars(select(Entry)) if entry.kind == "noted"]


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_a_database_that_stays_busy_is_said_and_keeps_what_was_typed(
    owner: FlaskClient, db: Session, hasty: Engine, caplog: pytest.LogCaptureFixture
) -> None:
    """SA05: another program holds the file longer than anybody waits; then it lets go, and one tap saves."""
    db.rollback()
    other = sqlite3.connect(str(hasty.url.database), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with caplog.at_level(logging.ERROR):
        page = owner.post("/journal/note", data=NOTE)
    assert page.status_code == 503
    assert page.headers["Retry-After"] == "5"
    assert "kept the database busy for too long. Nothing of this was saved." in page.text
    assert "Keep this &lt;b&gt;safe&lt;/b&gt;" in page.text
    assert 'action="/journal/note"' in page.text
    assert "kept the database busy" in caplog.text
    assert "safe" not in caplog.text.replace("is safe", "")
    assert owner.get("/journal").status_code == 200
    other.execute("ROLLBACK")
    other.close()
    assert owner.post("/journal/note", data=NOTE).status_code == 303
    assert notes(db) == ["Keep this <b>safe</b>"]


def test_a_database_that_can_only_be_read_is_said(
    owner: FlaskClient, db: Session, hasty: Engine, caplog: pytest.LogCaptureFixture
) -> None:
    """Both databases refuse the write themselves: SQLite by query_only, PostgreSQL by read-only transactions."""
    owner.get("/")
    db.rollback()
    say = "PRAGMA query_only=ON" if hasty.dialect.name == "sqlite" else "SET default_transaction_read_only = on"
    hasty.dispose()
    event.listen(hasty, "connect", lambda connection, _record: (connection.execute(say), connection.commit()))
    page = owner.post("/journal/note", data=NOTE)
    assert page.status_code == 503
    assert "can only read its disk or its database. Nothing of this was saved." in page.text
    assert "Keep this" in page.text
    assert "can only read its disk" in caplog.text
    assert owner.get("/").status_code == 200
    assert notes(db) == []


def test_reading_goes_on_where_the_last_look_in_cannot_be_noted(
    owner: FlaskClient, db: Session, hasty: Engine, clock: Clock
) -> None:
    """Once in twelve hours a page writes when somebody was last here; the recipe can be read without."""
    db.rollback()
    clock.forward(hours=13)
    say = "PRAGMA query_only=ON" if hasty.dialect.name == "sqlite" else "SET default_transaction_read_only = on"
    event.listen(hasty, "connect", lambda connection, _record: (connection.execute(say), connection.commit()))
    hasty.dispose()
    assert owner.get("/builds").status_code == 200


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_a_database_that_cannot_be_read_is_said(owner: FlaskClient, db: Session, hasty: Engine, tmp_path: Path) -> None:
    db.rollback()
    db.close()
    hasty.dispose()
    broken = tmp_path / "broken.db"
    broken.write_bytes(b"not a database " * 500)
    hasty.dispose()
    app_engine = make_engine(f"sqlite:///{broken}")
    owner.application.extensions["sessions"] = Sessions(app_engine)
    page = owner.get("/builds?q=oak")
    assert page.status_code == 503
    assert "restore the last backup" in page.text
    assert 'href="/builds?q=oak"' in page.text
    app_engine.dispose()


@pytest.fixture
def on_small_disk(app: Flask, small_disk: SmallDisk, sqlite_template: Path, settings: Settings) -> Iterator[Engine]:
    path = small_disk.folder / "benchtide.db"
    shutil.copy(sqlite_template, path)
    found = make_engine(f"sqlite:///{path}")
    app.extensions["sessions"] = Sessions(found)
    app.config["SETTINGS"] = replace(settings, instance=small_disk.folder)
    yield found
    found.dispose()


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_a_full_disk_is_said_and_leaves_nothing_half_written(
    app: Flask, on_small_disk: Engine, small_disk: SmallDisk, caplog: pytest.LogCaptureFixture
) -> None:
    """Note and photo are refused with a sentence; when there is room again, the same form is saved once."""
    with Session(on_small_disk, execution_options={"write": False}) as db:
        shop = factories.shop(db)
        owner = factories.client_of(app, db, shop, "Ada")
        where = f"builds/{factories.build(db, shop).id}"
        db.rollback()
        with small_disk.full():
            page = owner.post("/journal/note", data={**NOTE, "note": "Keep this. " + "x" * 4900})
            photo = send(owner, where, ("a.jpg", jpeg()))
            reading = owner.get(f"/{where}")
        assert page.status_code == small_disk.says_full
        assert "Nothing of this was saved." in page.text or "It is not known what" in page.text
        assert "Keep this." in page.text
        assert photo.status_code in (422, small_disk.says_full)
        assert "This photo was not stored" in photo.text or "is full" in photo.text
        assert reading.status_code == 200
        assert "full" in caplog.text or "fails" in caplog.text
        assert notes(db) == []
        assert photos(db) == []
        assert not list(small_disk.folder.rglob("*.part"))
        assert owner.post("/journal/note", data=NOTE).status_code == 303
        assert send(owner, where, ("a.jpg", jpeg())).status_code == 303
        assert len(notes(db)) == len(photos(db)) == 1
        assert db.connection().exec_driver_sql("PRAGMA quick_check").scalar() == "ok"


def test_photos_sent_by_script_are_told_in_its_own_language(
    owner: FlaskClient, db: Session, hasty: Engine, shop: Shop
) -> None:
    build = factories.build(db, shop)
    where = f"builds/{build.id}"
    db.rollback()
    say = "PRAGMA query_only=ON" if hasty.dialect.name == "sqlite" else "SET default_transaction_read_only = on"
    event.listen(hasty, "connect", lambda connection, _record: (connection.execute(say), connection.commit()))
    hasty.dispose()
    answer = send(owner, where, ("a.jpg", jpeg()), json=True)
    assert answer.status_code == 503
    assert answer.json is not None
    assert "can only read its disk" in answer.json["says"]
