"""The page of the backups: who may make one, what is sent, and what is said when it cannot be made."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, select, text
from sqlalchemy.orm import Session

from tests import factories
from tests.backups import making
from tests.disks import SmallDisk
from tests.disks import small_disk as small_disk
from tests.photos.sending import jpeg, send
from webapp.backups import restoring
from webapp.backups.models import Backup
from webapp.backups.views import one_at_a_time
from webapp.builds.models import Build
from webapp.db import migrate
from webapp.settings import Settings
from webapp.shops.models import Maker, Shop
from webapp.web.files import Folder, Store


def rows(db: Session) -> list[Backup]:
    factories.anew(db)
    return list(db.scalars(select(Backup).order_by(Backup.id)))


def test_an_owner_makes_one_and_it_can_be_restored(
    owner: FlaskClient, db: Session, shop: Shop, tmp_path: Path, other: Engine, store: Store, settings: Settings
) -> None:
    """SA19: made by the button of a running server, restored elsewhere, with photos."""
    build = factories.build(db, shop, "Hall table")
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    page = owner.get("/backups").text
    assert "None yet." in page
    answer = owner.post("/backups")
    assert answer.status_code == 200
    assert answer.headers["Content-Disposition"] == "attachment; filename=benchtide-2026-02-03.zip"
    assert answer.headers["Cache-Control"] == "no-store"
    path = tmp_path / "sent.zip"
    path.write_bytes(answer.data)
    assert len(answer.data) == answer.content_length
    answer.close()
    restored = restoring.restore(path, other, Folder(tmp_path / "b"), making.NOW, folder=tmp_path)
    assert restored.photo_count == 1
    with Session(other) as found:
        assert [one.name for one in found.scalars(select(Build))] == ["Hall table"]
    for name, _ in store.kept():
        with store.open(name) as sent, Folder(tmp_path / "b").open(name) as again:
            assert sent.read() == again.read()
    assert len(list(Folder(tmp_path / "b").kept())) == 3
    made = rows(db)[0]
    assert (made.by, made.way, made.size, made.photo_count) == ("Ada", "button", len(path.read_bytes()), 1)
    page = owner.get("/backups").text
    assert "14:18, <bdi>Ada</bdi>" in page
    assert "1 photo," in page
    assert [one for one in settings.instance.rglob("*") if "backup" in one.name] == []


def test_what_was_missing_is_said_on_the_page(
    owner: FlaskClient, db: Session, shop: Shop, store: Store, caplog: pytest.LogCaptureFixture
) -> None:
    build = factories.build(db, shop)
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    lost = next(name for name, _ in store.kept() if name.endswith(".original"))
    store.delete(lost)
    owner.post("/backups").close()
    assert f"{lost} is missing" in caplog.text
    assert "1 file of photos missing or damaged" in owner.get("/backups").text


def test_a_helper_may_not(helper: FlaskClient, db: Session) -> None:
    assert helper.get("/backups").status_code == 403
    assert helper.post("/backups").status_code == 403
    assert rows(db) == []


def test_an_owner_among_others_is_told_why_not(owner: FlaskClient, stranger: FlaskClient, db: Session) -> None:
    """A backup holds all shops of the server: their builds, prices and accounts."""
    db.add(Backup(at=making.NOW, by="Root", way="button", size=1, row_count=1, photo_count=1, missing_count=0))
    db.commit()
    for client in (owner, stranger):
        page = client.get("/backups").text
        assert "Other shops are on this server too" in page
        assert "Make a backup" not in page
        assert "Root" not in page
        assert 'href="/exports"' in page
        assert client.post("/backups").status_code == 403
    assert len(rows(db)) == 1


def test_whoever_owns_all_of_them_may(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    second = factories.shop(db, "Second")
    factories.maker(db, second, "Ada")
    owner.post("/backups").close()
    assert len(rows(db)) == 1
    db.scalars(select(Maker).where(Maker.shop_id == second.id)).one().left_on = datetime(2026, 1, 1, tzinfo=UTC).date()
    db.commit()
    assert owner.post("/backups").status_code == 403


def test_the_invented_shop_of_another_does_not_count(app: Flask, owner: FlaskClient, db: Session) -> None:
    invented = factories.shop(db, "Invented", is_invented=True)
    guest = factories.client_of(app, db, invented, "Guest")
    owner.post("/backups").close()
    assert len(rows(db)) == 1
    assert "nothing to keep in an invented shop" in guest.get("/backups").text
    assert guest.post("/backups").status_code == 403


def test_in_an_invented_shop_alone_there_is_nothing_to_keep(app: Flask, db: Session) -> None:
    """Else anybody could take every account along who puts up an invented shop on a server without another."""
    guest = factories.client_of(app, db, factories.shop(db, "Invented", is_invented=True), "Guest")
    assert guest.post("/backups").status_code == 403


def test_one_is_made_at_a_time(owner: FlaskClient, db: Session) -> None:
    with one_at_a_time:
        answer = owner.post("/backups")
    assert (answer.status_code, answer.location) == (303, "/backups")
    assert "A backup is being made already" in owner.get("/backups").text
    owner.post("/backups").close()
    assert len(rows(db)) == 1


@pytest.fixture
def damaged(db: Session, engine: Engine, shop: Shop) -> None:
    """A database in which a row has lost the one it refers to. Only SQLite lets that happen."""
    with migrate.for_migrating(str(engine.url)) as unchecked, unchecked.begin() as connection:
        connection.execute(text("INSERT INTO equipment (id, shop_id, name, count) VALUES (1, 9, 'clamps', 4)"))


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_a_damaged_database_is_said_and_nothing_is_noted(damaged: None, owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/backups")
    assert answer.status_code == 503
    assert "the database is damaged" in answer.text
    assert rows(db) == []


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_a_full_disk_is_said_and_leaves_nothing_half_written(
    app: Flask, owner: FlaskClient, db: Session, settings: Settings, small_disk: SmallDisk
) -> None:
    app.config["SETTINGS"] = replace(settings, instance=small_disk.folder)
    with small_disk.full():
        answer = owner.post("/backups")
    assert answer.status_code == 503
    assert "No backup was made." in answer.text
    assert rows(db) == []
    assert list(small_disk.folder.iterdir()) == []


def test_it_is_reached_from_the_page_of_the_shop(owner: FlaskClient, db: Session) -> None:
    assert "None was made yet" in owner.get("/shop").text
    owner.post("/backups").close()
    page = owner.get("/shop").text
    assert re.search(r'href="/backups"', page)
    assert "The last one was made 14:18" in page


def test_the_file_sent_is_a_whole_zip(owner: FlaskClient) -> None:
    answer = owner.post("/backups")
    with ZipFile(BytesIO(answer.data)) as archive:
        assert archive.testzip() is None
    answer.close()
