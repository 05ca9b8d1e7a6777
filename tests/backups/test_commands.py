"""benchtide backup, restore and sweep, as somebody types them."""

import os
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from tests import factories
from tests.backups import making
from tests.postgres import Server, start
from webapp import cli
from webapp.backups.models import Backup
from webapp.db import instance as instances
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.settings import Settings
from webapp.shops.models import Shop
from webapp.web.files import Folder

Said = pytest.CaptureFixture[str]


@pytest.fixture
def instance(tmp_path: Path, sqlite_template: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two rows in every table and the files of two photos."""
    for name in [name for name in os.environ if name.startswith("BENCHTIDE_") or name == "DATABASE_URL"]:
        monkeypatch.delenv(name)
    found = tmp_path / "instance"
    found.mkdir()
    engine = making.empty(sqlite_template, found / "benchtide.db")
    making.fill(engine)
    making.add_photos(Folder(found / "photos"))
    engine.dispose()
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(found))
    return found


def run(*arguments: object) -> int | str | None:
    with pytest.raises(SystemExit) as left:
        cli.main([str(one) for one in arguments])
    return left.value.code


def engine_of(instance: Path) -> Engine:
    return make_engine(Settings(instance=instance).database)


def state_of(instance: Path) -> dict[str, list[object]]:
    engine = engine_of(instance)
    found = making.state(engine)
    engine.dispose()
    return found


def test_a_backup_is_made_restored_elsewhere_and_noted(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    before, path = state_of(instance), tmp_path / "whole.zip"
    assert run("backup", path) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"{path}: {2 * len(before)} rows and 2 photos, ")
    assert said.endswith("all of it read back.\n")
    engine = engine_of(instance)
    with Session(engine) as db:
        newest = db.scalars(select(Backup).order_by(Backup.id.desc()).limit(1)).one()
        assert (newest.way, newest.by, newest.photo_count, newest.size) == ("command", "", 2, path.stat().st_size)
    engine.dispose()
    elsewhere = tmp_path / "elsewhere"
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(elsewhere))
    assert run("restore", path) == 0
    assert "Everybody signs in again." in capsys.readouterr().out
    assert state_of(elsewhere) == before
    assert making.tree(elsewhere / "photos") == making.tree(instance / "photos")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["elsewhere", "instance", "whole.zip"]


def test_what_stood_there_is_kept_and_where_is_said(
    instance: Path, tmp_path: Path, archive: Path, capsys: Said
) -> None:
    path = Path(shutil.copy(archive, tmp_path))
    engine = engine_of(instance)
    with Session(engine) as db:
        factories.shop(db, "Mine")
    engine.dispose()
    before = state_of(instance)
    assert run("restore", path) == 0
    kept = next(tmp_path.glob("benchtide-before-*.zip"))
    assert f"What stood here before is in {kept}" in capsys.readouterr().out
    assert len(state_of(instance)["shop"]) == 2
    assert run("restore", kept, "--without-backup") == 0
    assert len(list(tmp_path.glob("benchtide-before-*.zip"))) == 1
    assert state_of(instance) == before


def test_photos_that_are_missing_are_named_and_the_status_says_so(instance: Path, tmp_path: Path, capsys: Said) -> None:
    names = sorted([f"{making.PHOTOS[0]}.original", f"{making.PHOTOS[1]}.small.webp"])
    for name in names:
        Folder(instance / "photos").delete(name)
    assert run("backup", tmp_path / "lacking.zip") == 1
    said = capsys.readouterr()
    assert said.err == "".join(f"{name}: missing in the photo store\n" for name in names)
    assert "all of it read back" in said.out
    assert run("restore", tmp_path / "lacking.zip") == 0
    assert "2 files of photos missing or damaged in it" in capsys.readouterr().out


def test_beside_a_running_server_a_backup_is_made_and_nothing_restored(
    instance: Path, tmp_path: Path, capsys: Said
) -> None:
    before = state_of(instance)
    with instances.held(Settings(instance=instance).database, "serve", making.NOW):
        assert run("backup", tmp_path / "whole.zip") == 0
        left = run("restore", tmp_path / "whole.zip")
    assert "Benchtide already runs on this instance" in str(left)
    found = state_of(instance)
    assert len(found.pop("backup")) == 3
    before.pop("backup")
    assert found == before


@pytest.fixture
def server_apart() -> Iterator[Server]:
    """A database server on which nobody else is: other tests keep their connections."""
    with start() as found:
        migrate.upgrade(found.url)
        yield found


@pytest.mark.postgres
def test_a_database_server_is_not_restored_while_others_are_on_it(
    instance: Path, tmp_path: Path, archive: Path, server_apart: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DATABASE_URL", server_apart.url.replace("+psycopg", ""))
    engine = make_engine(server_apart.url)
    with engine.connect() as connection:
        connection.exec_driver_sql("SELECT 1")
        assert "1 other connection" in str(run("restore", archive, "--without-backup"))
    engine.dispose()
    assert run("restore", archive, "--without-backup") == 0
    assert all(len(rows) == 2 for rows in making.state(engine).values())
    engine.dispose()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("restore", "nothing.zip"), "Nothing was restored"),
        (("restore", "instance/benchtide.db"), "nothing was changed. This is no backup of Benchtide"),
        (("backup", "instance"), "is a folder"),
        (("backup", "instance/benchtide.db"), "is something else already"),
        (("backup", "nowhere/whole.zip"), "There is no folder"),
    ],
)
def test_what_cannot_be_is_said_in_a_line(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, str], says: str
) -> None:
    monkeypatch.chdir(tmp_path)
    before = state_of(instance)
    left = str(run(*arguments))
    assert says in left
    assert "\n" not in left
    assert state_of(instance) == before


def test_where_nothing_is_no_backup_is_made(instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(tmp_path / "none"))
    assert "There is no database of Benchtide there yet" in str(run("backup", tmp_path / "x.zip"))
    assert not (tmp_path / "none").exists()
    assert not (tmp_path / "x.zip").exists()


@pytest.mark.parametrize("spoilt", [b"no database at all", b""])
def test_a_damaged_database_is_in_the_way_and_that_is_said(
    instance: Path, tmp_path: Path, archive: Path, spoilt: bytes
) -> None:
    database = instance / "benchtide.db"
    content = database.read_bytes()
    database.write_bytes(spoilt or content[:8192] + bytes(len(content) - 8192))
    left = str(run("restore", archive))
    assert f"Nothing was restored, for {database} is damaged. Move it out of the way" in left
    database.unlink()
    assert run("restore", archive) == 0
    assert len(state_of(instance)["shop"]) == 2


def test_a_sweep_takes_what_nothing_names_and_what_a_crash_left(instance: Path, capsys: Said) -> None:
    store, old = Folder(instance / "photos"), (datetime.now(UTC) - timedelta(days=2)).timestamp()
    names = [f"{number}{'a' * 63}.original" for number in (1, 2)]
    for name in names:
        store.put(name, BytesIO(b"x"))
    (instance / ".backup-left").mkdir()
    for path in (store.path(names[0]), store.path(f"{making.PHOTOS[0]}.original"), instance / ".backup-left"):
        assert path is not None
        os.utime(path, (old, old))
    assert run("sweep", "--dry-run") == 0
    assert capsys.readouterr().out == f"{names[0]}\n.backup-left\n2 files would be removed.\n"
    assert store.exists(names[0])
    assert run("sweep") == 0
    assert capsys.readouterr().out == f"{names[0]}\n.backup-left\n2 files removed.\n"
    assert not store.exists(names[0])
    assert not (instance / ".backup-left").exists()
    assert store.exists(names[1])
    assert store.exists(f"{making.PHOTOS[0]}.original")


def test_photos_are_not_swept_away_by_an_empty_database(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Started on the wrong folder, or on a new database beside old photos."""
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(tmp_path / "new"))
    store, old = Folder(tmp_path / "new" / "photos"), (datetime.now(UTC) - timedelta(days=2)).timestamp()
    name = f"1{'a' * 63}.original"
    store.put(name, BytesIO(b"x"))
    os.utime(store.path(name), (old, old))
    assert run("sweep") == 1
    assert "The database names no photo, and files of photos lie there (1)." in capsys.readouterr().out
    assert store.exists(name)
    assert run("sweep", "--all") == 0
    assert not store.exists(name)


def test_an_instance_that_was_only_swept_is_still_empty(
    instance: Path, tmp_path: Path, archive: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(tmp_path / "new"))
    assert run("sweep") == 0
    assert run("restore", archive) == 0
    assert "before" not in capsys.readouterr().out
    engine = engine_of(tmp_path / "new")
    with Session(engine) as db:
        assert len(db.scalars(select(Shop)).all()) == 2
    engine.dispose()
