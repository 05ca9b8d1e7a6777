"""SQLite files with empty tables in a form of the past or of now, and the way from one to the next."""

import sqlite3
from contextlib import closing
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from alembic import command
from alembic.script import ScriptDirectory

from webapp.db import migrate
from webapp.settings import asset_dir

VERSIONS = "alembic_version"  # the table that says which form the others have


@cache
def known() -> frozenset[str]:
    """Return the forms of the tables that this version can bring up to date."""
    return frozenset(one.revision for one in ScriptDirectory(str(asset_dir("migrations"))).walk_revisions())


@cache
def newest() -> str:
    return str(ScriptDirectory(str(asset_dir("migrations"))).get_current_head())


def make(path: Path, revision: str) -> None:
    """Make a file with empty tables in a known form."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous=OFF")
        connection.execute("BEGIN")
        for statement in _statements(revision):
            connection.execute(statement)
        connection.execute(f"INSERT INTO {VERSIONS} VALUES (?)", (revision,))  # noqa: S608
        connection.execute("COMMIT")


@cache
def _statements(revision: str) -> tuple[str, ...]:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "blank.db"
        with migrate.for_migrating(f"sqlite:///{path}") as engine:
            command.upgrade(migrate.config(engine), revision)
        with closing(sqlite3.connect(path)) as connection:
            rows = connection.execute(
                "SELECT sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY type = 'table' DESC, rowid"
            )
            return tuple(row[0] for row in rows)


def bring_up(path: Path) -> None:
    """Bring a file to the form of now."""
    with migrate.for_migrating(f"sqlite:///{path}") as engine:
        command.upgrade(migrate.config(engine), "head")


def faults(path: Path) -> str:
    """Return what is wrong with a file: damage, or rows that refer to rows that are gone; empty when it is whole."""
    with closing(sqlite3.connect(path)) as connection:
        said = connection.execute("PRAGMA quick_check").fetchone()[0]
        if said != "ok":
            return str(said).splitlines()[0]
        lost = connection.execute("PRAGMA foreign_key_check").fetchone()
        return f"a row of {lost[0]} refers to a row of {lost[2]} that is not there" if lost else ""
