"""What stands in the way of starting is one sentence, and nothing is changed."""

import os
import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy.orm import Session

from tests import factories
from tests.db import later
from tests.disks import read_only_folder as read_only_folder
from tests.test_cli import instance as instance
from tests.test_cli import run
from webapp import serving
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.db.start import ready
from webapp.journal.wrong_clock import at_start
from webapp.settings import Settings


def database(instance: Path) -> str:
    return Settings(instance=instance).database


def test_a_second_server_on_the_same_instance_is_refused(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It says which process has it. That a killed one stands in nobody's way, tests/faults shows at each restart."""
    with ready(database(instance), "serve", datetime.now(UTC)):
        said = str(run(monkeypatch, "serve"))
        assert f"Benchtide already runs on this instance (benchtide serve, process {os.getpid()}, since " in said
        assert len(said.splitlines()) == 1
        assert run(monkeypatch, "account", "add", "Ada", typed="plane iron walnut") == 0


def test_a_folder_that_cannot_be_written_is_said(
    instance: Path, monkeypatch: pytest.MonkeyPatch, read_only_folder: Path
) -> None:
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(read_only_folder / "shop"))
    said = str(run(monkeypatch, "serve"))
    assert "cannot be written to: the disk, the folder or the file is read-only" in said


def test_a_file_that_is_no_database_is_said_and_kept(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = instance / "benchtide.db"
    path.write_bytes(b"a letter " * 1000)
    assert "is not a database" in str(run(monkeypatch, "serve"))
    assert path.read_bytes() == b"a letter " * 1000


def test_a_database_of_a_newer_version_is_said(instance: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    migrate.upgrade(database(instance), later.scripts(tmp_path, later.rebuild("x")))
    for command in (["serve"], ["account", "add", "Ada"]):
        assert "used by a newer Benchtide" in str(run(monkeypatch, *command, typed="plane iron walnut"))


def test_a_database_server_that_is_not_there_is_said(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DATABASE_URL", f"postgresql://nobody@/postgres?host={instance}")
    said = str(run(monkeypatch, "serve"))
    assert said.startswith("The database server does not answer.")
    assert "Traceback" not in said


def test_a_file_that_another_program_keeps_locked_is_said(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SA05: a tool for looking into databases that was left open in the midst of a change."""
    migrate.upgrade(database(instance))
    monkeypatch.setattr("webapp.db.place.PATIENCE", 0.1)
    other = sqlite3.connect(instance / "benchtide.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert "Another program keeps" in str(run(monkeypatch, "serve"))
    other.close()


def test_a_clock_that_was_set_back_is_in_the_log(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    url = database(tmp_path)
    migrate.upgrade(url)
    engine, at = make_engine(url), datetime(2026, 2, 3, 19, 18, tzinfo=UTC)
    with Session(engine) as db:
        shop = factories.shop(db)
        factories.entry(db, factories.maker(db, shop, "Ada"), "noted", at, note="x")
        assert at_start(db, at + timedelta(days=1)) == ""
        assert "so it was never set" not in at_start(db, at)
    engine.dispose()
    serving.look_round(Settings(instance=tmp_path), at - timedelta(days=1))
    assert "By the clock of this computer it is" in caplog.text
    assert "3 February 2026" in caplog.text
