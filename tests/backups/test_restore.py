"""Bringing a backup back: all of it, between databases, from earlier versions; whole or not at all."""

import signal
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any, BinaryIO

import pytest
from alembic import command
from sqlalchemy import Engine, event, select
from sqlalchemy.orm import Session

from tests import factories
from tests.backups import making
from tests.backups.making import NOW
from webapp.backups import actions, restoring
from webapp.backups.restoring import RestoreError
from webapp.db import migrate
from webapp.people.models import SignIn
from webapp.shops.models import Shop
from webapp.web.files import Folder, Store, StoreError

ROOT = Path(__file__).parent.parent.parent
FIRST = "20261125a"


def test_rows_and_photos_come_back_on_each_database(
    engine: Engine, archive: Path, photos: Folder, other: Engine, tmp_path: Path
) -> None:
    """A backup made on SQLite into each database, and one made there back into SQLite."""
    elsewhere = Folder(tmp_path / "elsewhere")
    restoring.restore(archive, engine, elsewhere, NOW, folder=tmp_path)
    assert all(len(rows) == 2 for rows in making.state(engine).values())
    assert making.tree(elsewhere.root) == making.tree(photos.root)
    actions.write(engine, elsewhere, tmp_path / "again.zip", NOW, folder=tmp_path)
    restoring.restore(tmp_path / "again.zip", other, Folder(tmp_path / "third"), NOW, folder=tmp_path)
    assert making.state(other) == making.state(engine)


def test_the_next_row_gets_a_number_of_its_own(engine: Engine, archive: Path, tmp_path: Path, db: Session) -> None:
    """PostgreSQL counts beside the table, and would give a number a second time."""
    restoring.restore(archive, engine, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    shop = factories.shop(db, "Third")
    assert shop.id == 3
    assert factories.build(db, shop).id == 3


def test_what_stood_there_is_kept_beside_it_and_then_gone(
    engine: Engine, db: Session, archive: Path, tmp_path: Path, other: Engine
) -> None:
    factories.build(db, factories.shop(db, "Mine"), "Hall table")
    before = making.state(engine)
    db.rollback()
    keep = tmp_path / "before.zip"
    restored = restoring.restore(archive, engine, Folder(tmp_path / "b"), NOW, folder=tmp_path, keep=keep)
    assert [shop.name for shop in db.scalars(select(Shop).order_by(Shop.id))] == [
        f"{making.WORDS} 1",
        f"{making.WORDS} 2",
    ]
    assert restored.kept is not None
    restoring.restore(keep, other, Folder(tmp_path / "c"), NOW, folder=tmp_path)
    assert making.state(other) == before


def test_nothing_is_kept_of_an_empty_instance(other: Engine, archive: Path, tmp_path: Path) -> None:
    restored = restoring.restore(archive, other, Folder(tmp_path / "b"), NOW, folder=tmp_path, keep=tmp_path / "k.zip")
    assert restored.kept is None
    assert not (tmp_path / "k.zip").exists()


def test_whoever_was_shut_out_since_stays_shut_out(other: Engine, archive: Path, tmp_path: Path) -> None:
    """A sign-in that was ended after the backup was made must not be good again."""
    restoring.restore(archive, other, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    with Session(other) as db:
        assert [sign_in.ended_at for sign_in in db.scalars(select(SignIn))] == [NOW, NOW]


def test_a_backup_of_the_first_version_comes_back(
    other: Engine, photos: Folder, tmp_path: Path, sqlite_template: Path
) -> None:
    old = making.empty(sqlite_template, tmp_path / "old.db")
    making.fill(old)
    wanted = making.state(old)
    with migrate.for_migrating(str(old.url)) as older:
        command.downgrade(migrate.config(older), FIRST)
    actions.write(old, photos, tmp_path / "old.zip", NOW, folder=tmp_path)
    old.dispose()
    assert b'"revision": "20261125a"' in making.members(tmp_path / "old.zip")["manifest.json"]
    restoring.restore(tmp_path / "old.zip", other, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    found = making.state(other)
    assert found["backup"] == []
    for table in ("shop", "build", "operation", "entry", "photo", "payment"):
        assert len(found[table]) == len(wanted[table]) == 2
    assert found["build"][0][2] == f"{making.WORDS} 1"


def test_a_picture_that_a_bad_disk_spoilt_is_made_good(other: Engine, archive: Path, tmp_path: Path) -> None:
    store = Folder(tmp_path / "b")
    name = f"{making.PHOTOS[0]}.original"
    store.put(name, BytesIO(b"spoilt"))
    restoring.restore(archive, other, store, NOW, folder=tmp_path)
    with store.open(name) as file:
        assert file.read() == b"original 1"


@pytest.mark.parametrize("store_kind", ["bucket"], indirect=True)
def test_photos_come_back_into_a_bucket(other: Engine, archive: Path, store: Store, tmp_path: Path) -> None:
    """And what is spoilt there is made good as well."""
    spoilt = f"{making.PHOTOS[1]}.large.webp"
    store.put(spoilt, BytesIO(b"spoilt"))
    restoring.restore(archive, other, store, NOW, folder=tmp_path)
    sent = {name.removeprefix("photos/"): content for name, content in making.members(archive).items()}
    for name, _ in store.kept():
        with store.open(name) as file:
            assert file.read() == sent[name]
    assert len(list(store.kept())) == 6


def test_a_database_of_an_earlier_version_is_not_written_to(other: Engine, archive: Path, tmp_path: Path) -> None:
    with migrate.for_migrating(str(other.url)) as older:
        command.downgrade(migrate.config(older), FIRST)
    with pytest.raises(RestoreError, match="tables of this version"):
        restoring.restore(archive, other, Folder(tmp_path / "b"), NOW, folder=tmp_path)


class Broken(Folder):
    """A store whose disk fills up after some files."""

    left = 4

    def put(self, key: str, source: BinaryIO) -> None:
        self.left -= 1
        if self.left == 0:
            raise StoreError("This photo was not stored: the disk of the server is full.")
        super().put(key, source)


@pytest.fixture
def standing(engine: Engine, db: Session) -> dict[str, Any]:
    """What stands in an instance before it is to be replaced."""
    factories.operation(db, factories.build(db, factories.shop(db, "Mine"), "Hall table"))
    db.rollback()
    return making.state(engine)


def test_a_store_that_fails_leaves_all_as_it_was(
    engine: Engine, standing: dict[str, Any], archive: Path, tmp_path: Path
) -> None:
    with pytest.raises(RestoreError, match="disk of the server is full"):
        restoring.restore(archive, engine, Broken(tmp_path / "b"), NOW, folder=tmp_path)
    assert making.state(engine) == standing


@pytest.mark.parametrize("number", [1, 35, 50])
def test_a_database_that_fails_leaves_all_as_it_was(
    engine: Engine, standing: dict[str, Any], archive: Path, tmp_path: Path, number: int
) -> None:
    left = [number]

    @event.listens_for(engine, "before_cursor_execute")
    def fail(_connection: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        left[0] -= statement.split()[0] in {"DELETE", "INSERT", "UPDATE"}
        if left[0] == 0:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        restoring.restore(archive, engine, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    event.remove(engine, "before_cursor_execute", fail)
    assert making.state(engine) == standing
    restoring.restore(archive, engine, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    assert all(len(rows) == 2 for rows in making.state(engine).values())


def killed(archive: Path, engine: Engine, folder: Path, *point: str) -> None:
    """Restore in a process of its own, which is killed at a point."""
    url = engine.url.render_as_string(hide_password=False)
    where = [str(one) for one in (archive, url, folder / "b", folder, *point)]
    done = subprocess.run([sys.executable, "-m", "tests.backups.interrupted", *where], cwd=ROOT, capture_output=True)
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()


def test_killed_amid_the_rows_the_old_state_stands_and_the_next_try_goes_through(
    engine: Engine, standing: dict[str, Any], archive: Path, tmp_path: Path
) -> None:
    """The short form of what tests/faults does at any instant."""
    killed(archive, engine, tmp_path, "write", "40")
    assert making.state(engine) == standing
    restoring.restore(archive, engine, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    assert all(len(rows) == 2 for rows in making.state(engine).values())


def test_killed_before_the_last_word_the_old_state_stands(archive: Path, tmp_path: Path, other: Engine) -> None:
    with Session(other) as db:
        factories.build(db, factories.shop(db, "Mine"), "Hall table")
    before = making.state(other)
    killed(archive, other, tmp_path, "end", "0")
    assert making.state(other) == before
