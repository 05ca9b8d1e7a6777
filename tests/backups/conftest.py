"""An instance with something in every table, on each database, and an empty one beside it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.backups import making
from webapp.backups import actions
from webapp.web.files import Folder


@pytest.fixture
def photos(tmp_path: Path) -> Folder:
    found = Folder(tmp_path / "photos")
    making.add_photos(found)
    return found


@pytest.fixture
def full(engine: Engine) -> Engine:
    """A database with two rows in every table."""
    making.fill(engine)
    return engine


@pytest.fixture
def other(sqlite_template: Path, tmp_path: Path) -> Iterator[Engine]:
    """Another database with nothing in it."""
    found = making.empty(sqlite_template, tmp_path / "other.db")
    yield found
    found.dispose()


@pytest.fixture(scope="session")
def archive(sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A backup of an instance with two rows in every table and the files of two photos. Not to be changed."""
    folder = tmp_path_factory.mktemp("archive")
    engine, store = making.empty(sqlite_template, folder / "benchtide.db"), Folder(folder / "photos")
    making.fill(engine)
    making.add_photos(store)
    actions.write(engine, store, folder / "whole.zip", making.NOW, folder=folder)
    engine.dispose()
    return folder / "whole.zip"
