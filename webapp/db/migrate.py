"""Bringing a database to the newest form of its tables. A SQLite file is copied first."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine

from webapp.db.engine import make_engine
from webapp.settings import asset_dir


class MigrationError(RuntimeError):
    """The tables could not be brought up to date; the text says why."""


def config(engine: Engine) -> Config:
    found = Config()
    found.set_main_option("script_location", str(asset_dir("migrations")))
    found.set_main_option("path_separator", "os")
    found.attributes["engine"] = engine
    return found


@contextmanager
def for_migrating(url: str) -> Iterator[Engine]:
    engine = make_engine(url, foreign_keys=False)
    try:
        yield engine
    finally:
        engine.dispose()


def upgrade(url: str) -> None:
    """Bring the database at this URL to the newest form; does nothing when it has it."""
    with for_migrating(url) as engine:
        wanted = ScriptDirectory.from_config(config(engine)).get_current_head()
        with engine.connect() as connection:
            found = MigrationContext.configure(connection).get_current_revision()
        if found == wanted:
            return
        if found is not None:
            _keep_a_copy(engine, found)
        command.upgrade(config(engine), "head")
        _check(engine)


def _keep_a_copy(engine: Engine, revision: str) -> None:
    path = engine.url.database
    if engine.dialect.name != "sqlite" or not path or path == ":memory:":
        return
    with sqlite3.connect(path) as source, sqlite3.connect(Path(path).with_suffix(f".before-{revision}.db")) as copy:
        source.backup(copy)


def _check(engine: Engine) -> None:
    if engine.dialect.name != "sqlite":
        return
    with engine.connect() as connection:
        lost = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if lost:
        raise MigrationError(
            f"after the migration {len(lost)} rows refer to rows that are gone; the copy is beside the file"
        )
