"""What every test may ask for: the app on each database, a clock to set, and three people standing for three rights."""

import os
import shutil
import sys
from collections.abc import Generator, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import hypothesis
import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session
from sqlalchemy.pool import QueuePool

from tests import buckets, factories
from tests.postgres import Server, start, why_not
from webapp.app import create_app
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.db.mark import renew
from webapp.db.session import Sessions
from webapp.settings import Settings
from webapp.shops.models import HELPER, Shop
from webapp.tables import metadata
from webapp.web.files import Store, store_of

# A Tuesday in February, 14:18 in the test shop (America/New_York)
CHROMIUM = Path("/usr/bin/chromium")
START = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)
WORKER = os.environ.get("PYTEST_XDIST_WORKER", "")  # which of the processes this is, where several share the tests


# sample files that are not part of the project; tests that read them are marked and left out where there are none
SAMPLES = Path(os.environ.get("BENCHTIDE_SAMPLES") or Path(__file__).parent.parent.parent / "shared")


# In CI the same examples each time: a test that fails there fails at home too. At home others are tried every time.
hypothesis.settings.register_profile("ci", derandomize=True, deadline=None)
hypothesis.settings.register_profile("home", deadline=None)
hypothesis.settings.load_profile("ci" if os.environ.get("CI") == "true" else "home")


def lacking() -> dict[str, str]:
    """Return which kinds of tests cannot run here, and why. CI must have all but the samples."""
    return {
        "shared": "" if SAMPLES.is_dir() else f"there are no samples in {SAMPLES}",
        "postgres": why_not(),
        "browser": "" if CHROMIUM.exists() else "Chromium is not installed: apt install chromium",
    }


def pytest_sessionstart(session: pytest.Session) -> None:
    """Where processes share the tests, the first of all says what each would end of."""
    if session.config.getoption("numprocesses", None) and not WORKER:
        for mark, reason in lacking().items():
            if reason:
                end_in_ci(f"Left out: the tests marked {mark}, for {reason}.", mark)


def end_in_ci(said: str, mark: str) -> None:
    if mark != "shared" and os.environ.get("CI") == "true":
        pytest.exit(f"{said} In CI nothing may be left out.", returncode=1)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        if "browser" in item.path.parts:
            item.add_marker(pytest.mark.browser)
    for mark, reason in lacking().items():
        left_out = [item for item in items if reason and item.get_closest_marker(mark)]
        if not left_out:
            continue
        said = f"Left out: {len(left_out)} tests marked {mark}, for {reason}."
        if WORKER in ("", "gw0"):
            print(f"\n{said}", file=sys.stderr)
        end_in_ci(said, mark)
        items[:] = [item for item in items if item not in left_out]
        config.hook.pytest_deselected(items=left_out)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """A test that skips itself has not been run and fails: what cannot run is left out above, with a line."""
    report = yield
    if report.skipped:
        report.outcome = "failed"
        vars(report).pop("wasxfail", None)  # pytest does not count a failure that was expected
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """The same for a file that skips itself as a whole."""
    report = yield
    if report.skipped:
        report.outcome = "failed"
    return report


@pytest.fixture
def sample_photos() -> Path:
    """Real photos, sorted by licence. Mark the test `shared`."""
    return SAMPLES / "photos"


class Clock:
    """A clock that stands still until it is moved."""

    def __init__(self) -> None:
        self.moment = START

    def __call__(self) -> datetime:
        return self.moment

    def forward(self, **span: float) -> datetime:
        self.moment += timedelta(**span)
        return self.moment


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("template") / "benchtide.db"
    migrate.upgrade(f"sqlite:///{path}")
    return path


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[Server]:
    with start() as server:
        migrate.upgrade(server.url)
        yield server


@pytest.fixture(scope="session")
def sqlite_engine(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Engine]:
    found = make_engine(f"sqlite:///{tmp_path_factory.mktemp('database') / 'benchtide.db'}")
    event.listen(found, "connect", leave_to_the_system)
    yield found
    found.dispose()


def leave_to_the_system(connection: Any, _record: Any) -> None:
    """Wait for no disk, as the other server does: a test goes on here for as long as this computer runs."""
    connection.execute("PRAGMA synchronous=OFF")


@pytest.fixture(scope="session")
def postgres_engine(postgres_server: Server) -> Iterator[Engine]:
    found = make_engine(postgres_server.url)
    yield found
    found.dispose()


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def engine(request: pytest.FixtureRequest) -> Iterator[Engine]:
    """An empty database with all tables, on each of the two.

    What was made of statements is kept from test to test, which is a quarter of their time, and on PostgreSQL the
    connections: each new one reads the catalogue again. Listeners are not.
    """
    kept: Engine = request.getfixturevalue(f"{request.param}_engine")
    if request.param == "sqlite":
        lay_down(request.getfixturevalue("sqlite_template"), Path(str(kept.url.database)))
    else:
        empty(kept)
    yield kept.execution_options()
    if request.param == "sqlite" or is_held(kept):
        kept.dispose()


def lay_down(template: Path, path: Path) -> None:
    """Put an empty SQLite file in the place of the one before; nobody has it open."""
    for old in path.parent.glob(f"{path.name}*"):
        old.unlink()
    shutil.copy(template, path)


def is_held(engine: Engine) -> bool:
    """Whether a test has not given back a connection."""
    assert isinstance(engine.pool, QueuePool)
    return engine.pool.checkedout() > 0


def empty(engine: Engine) -> None:
    """Empty every table. TRUNCATE makes new files for each table and takes twenty times as long for these few rows."""
    tables = metadata.sorted_tables
    numbered = [one.name for one in tables if one.autoincrement_column is not None]
    steps = ["SET LOCAL session_replication_role = replica"]  # in any order, keys unchecked
    steps += [f'DELETE FROM "{one.name}"' for one in tables]
    steps += [f"SELECT setval(pg_get_serial_sequence('{name}', 'id'), 1, false)" for name in numbered]
    with engine.begin() as connection:
        driver = connection.connection.driver_connection
        assert driver is not None
        driver.execute(";".join(steps))  # all at once, which the driver does for what has no values in it


@pytest.fixture(scope="session")
def bucket_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[buckets.Server]:
    with buckets.start(tmp_path_factory.mktemp("bucket")) as server:
        yield server


@pytest.fixture
def store_kind(request: pytest.FixtureRequest) -> str:
    """Where this test's pictures lie: as in life, a folder beside SQLite and a bucket beside PostgreSQL.

    The environment can put all of them into one or the other.
    """
    asked = getattr(request, "param", os.environ.get("BENCHTIDE_TEST_STORE"))
    if asked or "engine" not in request.fixturenames:
        return asked or "folder"
    return "folder" if request.getfixturevalue("engine").dialect.name == "sqlite" else "bucket"


@pytest.fixture
def settings(tmp_path: Path, store_kind: str, request: pytest.FixtureRequest) -> Settings:
    # without a search beside the requests: what a page shows would depend on how long ago the one before was asked for
    instance = tmp_path / "instance"
    if store_kind == "folder":
        return Settings(instance=instance, schedules=0)
    server = request.getfixturevalue("bucket_server")
    return Settings(instance=instance, photo_store=server.place(), aws=server.aws, schedules=0)


@pytest.fixture
def store(settings: Settings) -> Store:
    return store_of(settings)


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """One app for all tests: laying its routes and compiling its templates would take longer than most tests."""
    return create_app(Settings(instance=tmp_path_factory.mktemp("app")))


@pytest.fixture
def app(made: Flask, engine: Engine, settings: Settings, clock: Clock) -> Iterator[Flask]:
    """The app with this test's database, folder and clock; what a test sets is gone after it."""
    config, extensions, wsgi = dict(made.config), dict(made.extensions), made.wsgi_app
    made.extensions["sessions"] = Sessions(engine)
    made.config.update(
        TESTING=True, SETTINGS=settings, CLOCK=clock, WTF_CSRF_ENABLED=False, PASSWORD_METHOD="pbkdf2:sha256:1"
    )
    yield made
    made.config.clear()
    made.config.update(config)
    made.extensions.clear()
    made.extensions.update(extensions)
    made.wsgi_app = wsgi  # type: ignore[method-assign]


@pytest.fixture
def db(engine: Engine) -> Iterator[Session]:
    """A session of the test's own, to lay down rows and to look at what is stored. Commit before a request."""
    with Session(engine, execution_options={"write": False}, expire_on_commit=True) as found:
        event.listen(found, "before_commit", renew)
        yield found


@pytest.fixture
def nobody(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture
def shop(db: Session) -> Shop:
    return factories.shop(db, "Two Bench Shop")


@pytest.fixture
def owner(app: Flask, db: Session, shop: Shop) -> FlaskClient:
    return factories.client_of(app, db, shop, "Ada")


@pytest.fixture
def helper(app: Flask, db: Session, shop: Shop) -> FlaskClient:
    return factories.client_of(app, db, shop, "Ben", role=HELPER)


@pytest.fixture
def stranger(app: Flask, db: Session) -> FlaskClient:
    """An owner of another shop on the same server."""
    return factories.client_of(app, db, factories.shop(db, "Elsewhere"), "Cleo")
