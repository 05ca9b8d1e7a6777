"""Bringing a database to the newest form of its tables: in one transaction, by one server, after a copy of the file."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Connection, Engine, inspect, text

from webapp.db.disk import sync_folder, sync_path
from webapp.db.engine import make_engine
from webapp.db.instance import database_file
from webapp.db.locks import MIGRATING
from webapp.db.trouble import StartError
from webapp.settings import asset_dir

PATIENCE_MS = 60_000  # a second server waits for the first to be through


class MigrationError(StartError):
    """The tables could not be brought up to date; the text says why."""


def config(engine: Engine, scripts: Path | None = None, connection: Connection | None = None) -> Config:
    found = Config()
    found.set_main_option("script_location", str(scripts or asset_dir("migrations")))
    found.set_main_option("path_separator", "os")
    found.attributes.update(engine=engine, connection=connection)
    return found


@contextmanager
def for_migrating(url: str) -> Iterator[Engine]:
    engine = make_engine(url, foreign_keys=False, busy_ms=PATIENCE_MS)
    try:
        yield engine
    finally:
        engine.dispose()


def is_behind(url: str, scripts: Path | None = None) -> bool:
    """Return whether there is something to bring up to date; raise MigrationError for a database of a newer version."""
    with for_migrating(url) as engine, engine.connect() as connection:
        return _steps_left(connection, config(engine, scripts))


def upgrade(url: str, scripts: Path | None = None) -> None:
    """Bring the database at this URL to the newest form; does nothing when it has it.

    All steps are one transaction: whoever is interrupted leaves the old form, and the next start does it all.
    """
    with for_migrating(url) as engine:
        with engine.connect() as connection:
            if not _steps_left(connection, config(engine, scripts)):
                return
        with engine.execution_options(write=True).begin() as connection:
            _come_alone(connection)
            settings = config(engine, scripts, connection)
            if _steps_left(connection, settings):  # else another server was quicker
                _keep_a_copy(connection)
                command.upgrade(settings, "head")
                _check(connection)


def _steps_left(connection: Connection, settings: Config) -> bool:
    found, known = _revision(connection), ScriptDirectory.from_config(settings)
    if found is None:
        return True
    try:
        known.get_revision(found)
    except CommandError:
        raise MigrationError(
            f"This database was used by a newer Benchtide (its tables are in the form {found}). "
            "Start that version again, or restore a backup made with this one."
        ) from None
    return found != known.get_current_head()


def _revision(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _come_alone(connection: Connection) -> None:
    """Wait until no other server migrates. On SQLite the transaction has seen to that by beginning."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SET LOCAL lock_timeout = 0"))
        connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": MIGRATING})


def _keep_a_copy(connection: Connection) -> None:
    """Lay a whole copy of a SQLite file beside it, named by the form it has; nothing can be written meanwhile."""
    path, revision = database_file(str(connection.engine.url)), _revision(connection)
    if path is None:
        return
    if revision is None:
        if inspect(connection).get_table_names():
            raise MigrationError(f"{path} is a database of something else. Give Benchtide a folder of its own.")
        return
    copy = path.with_suffix(f".before-{revision}.db")
    part = copy.with_suffix(".part")
    try:
        part.unlink(missing_ok=True)
        _copy(path, part)
        sync_path(part)
        part.replace(copy)
        sync_folder(copy.parent)
    except (OSError, sqlite3.Error) as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise MigrationError(
            f"Nothing was changed, for no copy of {path.name} could be laid beside it first ({error}). "
            "Is there room on the disk?"
        ) from error


def _copy(path: Path, part: Path) -> None:
    with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(part)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file that is whole by itself
        found = copy.execute("PRAGMA quick_check").fetchone()[0]
    if found != "ok":
        raise MigrationError(f"Nothing was changed, for {path.name} is damaged ({found}). Restore the last backup.")


def _check(connection: Connection) -> None:
    """Raise MigrationError where rows refer to rows that are gone; with the transaction the migration is undone."""
    if connection.dialect.name != "sqlite":
        return
    lost = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if lost:
        raise MigrationError(
            f"Nothing was changed: after it {len(lost)} rows would refer to rows that are gone, the first of them in "
            f"the table {lost[0][0]}. Start the version you had before."
        )
