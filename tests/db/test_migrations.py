"""Migrations go up, down and up again with rows in the tables, on both databases, and end where the models are."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text
from sqlalchemy.orm import Session

from tests import factories
from tests.postgres import Server
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.shops.models import Shop


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


def test_an_older_file_is_copied_before_it_is_changed(tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    migrate.upgrade(f"sqlite:///{path}")
    furnish(f"sqlite:///{path}")
    with migrate.for_migrating(f"sqlite:///{path}") as engine:
        with engine.begin() as connection:
            connection.execute(text("UPDATE alembic_version SET version_num = 'older'"))
        migrate._keep_a_copy(engine, "older")
    copy = make_engine(f"sqlite:///{path.with_suffix('.before-older.db')}")
    with Session(copy) as db:
        assert db.query(Shop).count() == 1
    copy.dispose()
