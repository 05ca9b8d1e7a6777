"""SQLite changes a table by making it anew; dropping the old one takes its child rows along, unless told not to."""

from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.migration import MigrationContext
from alembic.operations import Operations
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.models import Operation
from webapp.db import migrate
from webapp.db.engine import make_engine


@pytest.fixture
def url(tmp_path: Path) -> str:
    found = f"sqlite:///{tmp_path / 'new.db'}"
    migrate.upgrade(found)
    engine = make_engine(found)
    with Session(engine) as db:
        build = factories.build(db, factories.shop(db))
        for key in ("mill", "glue"):
            factories.operation(db, build, key)
    engine.dispose()
    return found


def rebuild(engine: Engine) -> None:
    with engine.begin() as connection:
        operations = Operations(MigrationContext.configure(connection))
        with operations.batch_alter_table("build", recreate="always") as build:
            build.add_column(sa.Column("later", sa.Integer()))


def left(url: str) -> int:
    engine = make_engine(url)
    with Session(engine) as db:
        found = db.query(Operation).count()
        assert db.execute(sa.text("PRAGMA foreign_key_check")).all() == []
    engine.dispose()
    return found


def test_a_migration_that_rebuilds_a_parent_keeps_its_children(url: str) -> None:
    with migrate.for_migrating(url) as engine:
        rebuild(engine)
    assert left(url) == 2


def test_with_foreign_keys_on_they_would_be_gone(url: str) -> None:
    """What the engine for migrating is there for."""
    engine = make_engine(url)
    rebuild(engine)
    engine.dispose()
    assert left(url) == 0
