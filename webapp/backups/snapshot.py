"""The database as it stands at one moment, as a SQLite file, whichever database it is. Others go on writing."""

import json
import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from alembic.runtime.migration import MigrationContext
from sqlalchemy import JSON, Connection, Engine, MetaData, Table, Text, cast, select

from webapp.backups import blank
from webapp.backups.rows import inserting
from webapp.db.trouble import StartError, trouble_of

AT_ONCE = 500
NOT_OURS = "There is no database of Benchtide there yet. Start Benchtide once, then make the backup."


class BackupError(StartError):
    """A backup that could not be made; the text says why."""


def why(error: Exception) -> str:
    """Return what an error of the disk or a database means for a maker."""
    trouble = trouble_of(error)
    if trouble is not None:
        return f"{trouble.happened} {trouble.way_out}"
    return str(getattr(error, "orig", None) or getattr(error, "strerror", None) or error).strip()


def take(engine: Engine, path: Path) -> str:
    """Copy the database into a new file and look it over; return the form of its tables. Raises BackupError."""
    revision = _copy_file(engine, path) if engine.dialect.name == "sqlite" else _copy_rows(engine, path)
    wrong = blank.faults(path)
    if wrong:
        raise BackupError(f"No backup was made: the database is damaged ({wrong}).")
    return revision


def _copy_file(engine: Engine, path: Path) -> str:
    if not Path(engine.url.database or "").is_file():
        raise BackupError(NOT_OURS)
    with engine.connect() as connection, closing(sqlite3.connect(path, isolation_level=None)) as copy:
        source = connection.connection.driver_connection
        assert isinstance(source, sqlite3.Connection)
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file that is whole by itself
        try:
            revision = copy.execute(f"SELECT version_num FROM {blank.VERSIONS}").fetchone()  # noqa: S608
        except sqlite3.OperationalError:
            revision = None
    return _known(revision[0] if revision else None)


def _known(revision: str | None) -> str:
    if revision is None:
        raise BackupError(NOT_OURS)
    if revision not in blank.known():
        raise BackupError(f"The database was used by a newer Benchtide (its tables have the form {revision}).")
    return revision


def _copy_rows(engine: Engine, path: Path) -> str:
    alone = engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
    with alone.connect() as source, closing(sqlite3.connect(path, isolation_level=None)) as copy:
        revision = _known(MigrationContext.configure(source).get_current_revision())
        blank.make(path, revision)
        metadata = MetaData()
        metadata.reflect(source)
        copy.execute("BEGIN")
        for table in metadata.tables.values():
            if table.name != blank.VERSIONS:
                _copy_table(source, table, copy)
        copy.execute("COMMIT")
    return revision


def _copy_table(source: Connection, table: Table, copy: sqlite3.Connection) -> None:
    columns = [cast(one, Text) if isinstance(one.type, JSON) else one for one in table.columns]
    rows = source.execution_options(yield_per=AT_ONCE).execute(select(*columns))
    statement = inserting(table.name, [column.name for column in table.columns])
    for some in rows.partitions():
        copy.executemany(statement, [[stored(value) for value in row] for row in some])


def stored(value: Any) -> Any:
    """Return a value as SQLAlchemy lays it down in SQLite: a yes as 1, a moment in UTC digits."""
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f")
    if isinstance(value, date):
        return value.isoformat()
    return json.dumps(value) if isinstance(value, dict | list) else value
