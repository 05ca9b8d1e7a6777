"""Migrations go up, down and up again with rows in the tables, on both databases, and end where the models are."""

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from tests import factories
from tests.db import later
from tests.postgres import Server
from webapp.db import migrate
from webapp.db.engine import make_engine


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """A database of its own with nothing in it."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'new.db'}"
        return
    server: Server = request.getfixturevalue("postgres_server")
    admin = make_engine(server.url).execution_options(isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text("CREATE DATABASE migrated"))
    yield server.url.replace("/postgres?", "/migrated?")
    with admin.connect() as connection:
        connection.execute(text("DROP DATABASE migrated WITH (FORCE)"))
    admin.dispose()


def furnish(url: str) -> None:
    engine = make_engine(url)
    with Session(engine) as db:
        shop = factories.shop(db)
        build = factories.build(db, shop)
        mill = factories.operation(db, build, "mill")
        factories.operation(db, build, "glue", after=[mill], product_id=factories.product(db, shop).id)
        factories.entry(db, factories.maker(db, shop, "Ada"), "started", datetime(2026, 2, 3, tzinfo=UTC), on=mill)
    engine.dispose()


def counts(engine: Engine) -> dict[str, int]:
    with engine.connect() as connection:
        names = [name for name in inspect(engine).get_table_names() if name != "alembic_version"]
        return {name: connection.scalar(text(f'SELECT count(*) FROM "{name}"')) or 0 for name in names}


def test_up_down_up_with_rows(url: str) -> None:
    migrate.upgrade(url)
    furnish(url)
    with migrate.for_migrating(url) as engine:
        before = counts(engine)
        assert before["operation"] == 2
        script = ScriptDirectory.from_config(migrate.config(engine))
        steps = len(list(script.walk_revisions()))
        for _ in range(steps - 1):  # down to the first tables and up again: no row is lost on the way
            command.downgrade(migrate.config(engine), "-1")
        command.upgrade(migrate.config(engine), "head")
        assert counts(engine) == before
        command.check(migrate.config(engine))  # nothing in the models that no migration made
        command.downgrade(migrate.config(engine), "base")
        assert counts(engine) == {}
        command.upgrade(migrate.config(engine), "head")
        assert set(counts(engine).values()) == {0}


def test_rebuilding_a_parent_table_keeps_its_children(tmp_path: Path) -> None:
    """SQLite rebuilds a table to change it; with foreign keys on, the rebuild would take every child row along."""
    url = f"sqlite:///{tmp_path / 'new.db'}"
    migrate.upgrade(url)
    furnish(url)
    with migrate.for_migrating(url) as engine, engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 0
    engine = make_engine(url)
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def form_of(url: str) -> str | None:
    with migrate.for_migrating(url) as engine, engine.connect() as connection:
        return connection.scalar(text("SELECT version_num FROM alembic_version"))


def columns(url: str, table: str) -> set[str]:
    with migrate.for_migrating(url) as engine:
        return {column["name"] for column in inspect(engine).get_columns(table)}


def test_an_older_file_is_copied_before_it_is_changed(tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    url = f"sqlite:///{path}"
    migrate.upgrade(url)
    furnish(url)
    copy = path.with_suffix(f".before-{later.head()}.db")
    copy.write_bytes(b"what an earlier try left")
    migrate.upgrade(url, later.scripts(tmp_path, later.rebuild("x")))
    assert form_of(url) == "later_1"
    assert form_of(f"sqlite:///{copy}") == later.head()
    with sqlite3.connect(f"file:{copy}?mode=ro", uri=True) as found:
        assert found.execute("PRAGMA quick_check").fetchone() == ("ok",)
        assert found.execute("SELECT count(*) FROM shop").fetchone() == (1,)
    found.close()
    assert sorted(one.name for one in tmp_path.glob("*.part*")) == []


def test_nothing_is_changed_where_no_copy_can_be_laid_down(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'new.db'}"
    migrate.upgrade(url)
    (tmp_path / f"new.before-{later.head()}.db").mkdir()
    with pytest.raises(migrate.MigrationError, match="Nothing was changed, for no copy"):
        migrate.upgrade(url, later.scripts(tmp_path, later.rebuild("x")))
    assert form_of(url) == later.head()
    assert list(tmp_path.glob("*.part*")) == []


def test_of_several_steps_all_are_taken_or_none(url: str, tmp_path: Path) -> None:
    migrate.upgrade(url)
    furnish(url)
    before = columns(url, "build")
    breaks = later.scripts(tmp_path, later.rebuild("x"), 'op.execute("INSERT INTO nowhere VALUES (1)")')
    with pytest.raises(DBAPIError):
        migrate.upgrade(url, breaks)
    assert form_of(url) == later.head()
    assert columns(url, "build") == before


def test_a_step_that_would_lose_rows_is_undone(tmp_path: Path) -> None:
    """Foreign keys are off meanwhile; what they would have caught is caught afterwards, before it is for good."""
    url = f"sqlite:///{tmp_path / 'new.db'}"
    migrate.upgrade(url)
    furnish(url)
    with pytest.raises(migrate.MigrationError, match=r"Nothing was changed: after it \d+ rows would refer"):
        migrate.upgrade(url, later.scripts(tmp_path, 'op.execute("DELETE FROM build")'))
    with migrate.for_migrating(url) as engine:
        assert counts(engine)["build"] == 1


def test_several_servers_that_start_at_once_migrate_once(url: str, tmp_path: Path) -> None:
    """An empty database, then one to be changed: nobody stumbles over the tables of another."""
    changed = later.scripts(tmp_path, later.rebuild("x"))
    for scripts in (None, changed):
        with ThreadPoolExecutor(3) as servers:
            list(servers.map(lambda _, scripts=scripts: migrate.upgrade(url, scripts), range(3)))
    assert form_of(url) == "later_1"
    assert "x" in columns(url, "build")


def test_a_database_of_a_newer_version_is_refused_by_name(url: str, tmp_path: Path) -> None:
    migrate.upgrade(url, later.scripts(tmp_path, later.rebuild("x")))
    with pytest.raises(migrate.MigrationError, match=r"used by a newer Benchtide .*later_1.*restore a backup"):
        migrate.upgrade(url)
    assert form_of(url) == "later_1"


def test_a_file_of_another_program_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
    other.close()
    with pytest.raises(migrate.MigrationError, match="a database of something else"):
        migrate.upgrade(f"sqlite:///{path}")
