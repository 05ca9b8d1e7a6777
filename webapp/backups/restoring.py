"""Bringing a backup back: whole, or not at all.

The archive is read from end to end first. Then photos go into the store, where they are named by their content and
harm nobody; then one transaction of the database takes all rows out and puts all rows in. Whoever is interrupted at
any instant finds the old state or the new one, and may simply begin again.
"""

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Any

from alembic.runtime.migration import MigrationContext
from sqlalchemy import (
    Column,
    Connection,
    Engine,
    Integer,
    Table,
    bindparam,
    delete,
    func,
    insert,
    select,
    text,
    update,
)
from sqlalchemy.exc import DBAPIError

from webapp.backups import blank
from webapp.backups.actions import write
from webapp.backups.checking import Checked, Listed, check, listed
from webapp.backups.layout import CHUNK, ArchiveError
from webapp.backups.reading import Counted
from webapp.backups.scratch import scratch
from webapp.backups.snapshot import why
from webapp.backups.writing import Report
from webapp.db.engine import make_engine
from webapp.db.trouble import StartError
from webapp.people.models import SignIn
from webapp.tables import metadata
from webapp.web.files import Store

AT_ONCE = 500
AT_A_TIME = 8
OTHERS = """SELECT count(*) FROM pg_stat_activity
    WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'"""


class RestoreError(StartError):
    """A backup that could not be brought back, and nothing was changed; the text says why."""


@dataclass(frozen=True)
class Restored:
    """What was brought back, and where the backup of what stood there before lies."""

    version: str
    begun: datetime
    row_count: int
    photo_count: int
    missing: tuple[str, ...]
    kept: Report | None = None


def restore(
    path: Path, engine: Engine, store: Store, now: datetime, *, folder: Path, keep: Path | None = None
) -> Restored:
    """Replace everything in a database and its store by what a backup holds.

    The database must have the tables of this version. `keep` says where to write a backup of it first, unless it is
    empty; `folder` is where to work. Raises RestoreError or BackupError, and then nothing was changed.
    """
    with prepared(path, now, folder=folder) as ready:
        return put_in_place(ready, engine, store, now, folder=folder, keep=keep)


@contextmanager
def prepared(path: Path, now: datetime, *, folder: Path) -> Iterator[Checked]:
    """Yield a backup that was looked over from end to end, its rows in the form of this version; raise RestoreError."""
    try:
        with path.open("rb") as file, scratch(folder, now) as work:
            found = check(file, work)
            _bring_up(found)
            yield found
    except ArchiveError as error:
        raise RestoreError(f"{path.name} was not restored, and nothing was changed. {error}") from error
    except (OSError, sqlite3.Error) as error:
        raise RestoreError(f"Nothing was restored, and all is as it was. {why(error)}") from error


def _bring_up(found: Checked) -> None:
    try:
        blank.bring_up(found.database)
        wrong = blank.faults(found.database)
    except DBAPIError as error:
        wrong = str(error.orig)
    if wrong:
        raise ArchiveError(f"Brought up to date, its rows do not go together: {wrong}.")


def put_in_place(
    found: Checked, engine: Engine, store: Store, now: datetime, *, folder: Path, keep: Path | None = None
) -> Restored:
    """Replace what stands in a database and its store; see `restore`."""
    try:
        if not _is_ready(engine):
            raise RestoreError("The database does not have the tables of this version. Start Benchtide once.")
        kept = write(engine, store, keep, now, folder=folder) if keep is not None and not is_empty(engine) else None
        _put_all(found, store)
        _replace(engine, found.database, now)
    except DBAPIError as error:
        raise RestoreError(f"Nothing was restored, and all is as it was. {why(error)}") from error
    said = found.manifest
    lacking = found.missing + found.damaged
    return Restored(said.version, said.begun, said.row_count, found.photo_count, lacking, kept)


def _is_ready(engine: Engine) -> bool:
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision() == blank.newest()


def others(engine: Engine) -> int:
    """Return how many others are connected to a database server; a SQLite file is held by whoever serves it."""
    if engine.dialect.name != "postgresql":
        return 0
    with engine.connect() as connection:
        return int(connection.scalar(text(OTHERS)) or 0)


def is_empty(engine: Engine) -> bool:
    """Return whether there is no row in any table."""
    with engine.connect() as connection:
        return not any(connection.execute(select(table).limit(1)).first() for table in metadata.sorted_tables)


def _put_all(found: Checked, store: Store) -> None:
    """Put every file into the store, some at a time: most of it is waiting for the disk, or for a bucket far away."""
    wanted = (one for one in listed(found.archive, found.manifest) if not one.is_missing)
    with ThreadPoolExecutor(AT_A_TIME) as pool:
        while some := list(islice(wanted, AT_ONCE)):
            for _ in pool.map(lambda one: _put(found, one, store), some):
                pass  # what went wrong with one is raised here


def _put(found: Checked, one: Listed, store: Store) -> None:
    """Put a file into the store; what has its name and another content is damaged, or made by another version."""
    if store.exists(one.name) and not one.is_damaged and _hash(store, one.name) != one.sha256:
        store.delete(one.name)
    with found.archive.open(f"photos/{one.name}") as file:
        store.put(one.name, file)  # type: ignore[arg-type]


def _hash(store: Store, name: str) -> str:
    with store.open(name) as file:
        counted = Counted(file)
        while counted.read(CHUNK):
            pass
    return counted.sha256


def _replace(engine: Engine, database: Path, now: datetime) -> None:
    source = make_engine(f"sqlite:///{database}", foreign_keys=False)
    try:
        with source.connect() as old, engine.execution_options(write=True).begin() as new:
            _come_alone(new)
            for table in reversed(metadata.sorted_tables):
                new.execute(delete(table))
            for table in metadata.sorted_tables:
                _copy(old, new, table)
                _go_on_counting(new, table)
            # who was shut out after the backup was made must not be in again; everybody signs in anew
            new.execute(update(SignIn).where(SignIn.ended_at.is_(None)).values(ended_at=now))
    finally:
        source.dispose()


def _come_alone(connection: Connection) -> None:
    """Let nobody read or write meanwhile. On SQLite the transaction has seen to that by beginning."""
    if connection.dialect.name == "postgresql":
        quote = connection.dialect.identifier_preparer.quote
        names = ", ".join(quote(table.name) for table in metadata.sorted_tables)
        connection.execute(text(f"LOCK TABLE {names} IN ACCESS EXCLUSIVE MODE"))


def _copy(old: Connection, new: Connection, table: Table) -> None:
    """Copy the rows of a table. What refers to a row of the same table is filled in when all are there."""
    own = [column for column in table.columns if any(key.column.table is table for key in column.foreign_keys)]
    for some in old.execution_options(yield_per=AT_ONCE).execute(select(table)).mappings().partitions():
        new.execute(insert(table), [{**row, **{column.name: None for column in own}} for row in some])
    for column in own:
        _fill_in(old, new, table, column)
    count = select(func.count()).select_from(table)
    assert new.scalar(count) == old.scalar(count)


def _fill_in(old: Connection, new: Connection, table: Table, column: Column[Any]) -> None:
    key = table.primary_key.columns[0]
    wanted = select(key, column).where(column.is_not(None))
    filling = update(table).where(key == bindparam("key_of_row")).values({column: bindparam("value")})
    for some in old.execution_options(yield_per=AT_ONCE).execute(wanted).partitions():
        new.execute(filling, [{"key_of_row": row[0], "value": row[1]} for row in some])


def _go_on_counting(connection: Connection, table: Table) -> None:
    """Let the next row get the next number: PostgreSQL counts beside the table."""
    key = table.primary_key.columns[0]
    if connection.dialect.name != "postgresql" or not isinstance(key.type, Integer):
        return
    quoted = connection.dialect.identifier_preparer.quote(table.name)
    highest = connection.scalar(select(func.max(key)))
    connection.execute(
        select(func.setval(func.pg_get_serial_sequence(quoted, key.name), highest or 1, highest is not None))
    )
