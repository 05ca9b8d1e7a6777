"""Two furnished shops on one server, and somebody of the one who looks for ways into the other."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests.conftest import empty
from tests.rights.marks import OURS, THEIRS
from tests.rights.sweep import Pinned, Sweep
from tests.rights.world import Place, furnish
from webapp.db.engine import make_engine
from webapp.settings import Settings

Begin = Callable[[str], Sweep]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("rights")


@pytest.fixture
def settings(folder: Path) -> Settings:
    return Settings(instance=folder, schedules=0)


@pytest.fixture(scope="module", params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def engine(request: pytest.FixtureRequest, folder: Path) -> Iterator[Engine]:
    """One database for the tests of a file: what a request does to it is taken back."""
    if request.param == "sqlite":
        shutil.copy(request.getfixturevalue("sqlite_template"), folder / "benchtide.db")
        found = make_engine(f"sqlite:///{folder / 'benchtide.db'}")
    else:
        found = make_engine(request.getfixturevalue("postgres_server").url)
        empty(found)
    yield found
    found.dispose()


@pytest.fixture(scope="module")
def places(engine: Engine, folder: Path) -> list[Place]:
    with Session(engine) as db:
        return [furnish(db, mark, folder / "photos") for mark in (OURS, THEIRS)]


@pytest.fixture
def sweeping(app: Flask, engine: Engine, places: list[Place]) -> Iterator[Begin]:
    """A function that signs in as owner or helper of our shop, or as nobody."""
    with engine.connect() as connection:
        app.extensions["sessions"] = Pinned(engine, connection)
        app.config["PROPAGATE_EXCEPTIONS"] = False  # a page that breaks is one finding among others
        app.config["INVENTED_PICTURES"] = 0  # drawing them takes longer than all the rest

        def begin(role: str) -> Sweep:
            if connection.in_transaction():
                connection.rollback()
            return Sweep(app, connection, *places, role)

        yield begin
