"""A migration is killed at any instant: the old tables or the new ones, whole; the next start finishes it."""

import shutil
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from random import Random

from sqlalchemy import func, insert, inspect, select, text
from sqlalchemy.orm import Session

from tests import factories
from tests.db import later
from tests.faults.checks import orphans
from tests.faults.child import interrupted
from tests.faults.figures import Figures
from tests.postgres import Server
from webapp.builds.models import Build
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.db.instance import database_file
from webapp.journal.models import Entry

STEPS = (later.rebuild("x"), later.REWRITE, later.rebuild("y"))
NEWEST = f"later_{len(STEPS)}"
AT = datetime(2026, 2, 3, tzinfo=UTC)


@dataclass(frozen=True)
class Form:
    """What a database looks like from outside."""

    revision: str | None
    columns: frozenset[str]
    builds: int
    entries: int
    rewritten: int
    faults: tuple[str, ...]


def furnish(url: str, size: int) -> None:
    """Fill an empty database with some builds and many lines, so that changing it takes a while."""
    migrate.upgrade(url)
    engine = make_engine(url)
    with Session(engine, execution_options={"write": True}) as db:
        shop = factories.shop(db)
        builds = [factories.build(db, shop, f"Table {number}").id for number in range(20)]
        line = {"shop_id": shop.id, "kind": "noted", "at": AT, "arrived_at": AT, "data": {"note": "x"}, "folded": "oak"}
        rows = [{**line, "id": f"line-{number}", "build_id": builds[number % 20]} for number in range(size)]
        db.execute(insert(Entry), rows)
        db.commit()
    engine.dispose()


def form_of(url: str) -> Form:
    engine = make_engine(url)
    try:
        with Session(engine, execution_options={"write": False}) as db:
            rewritten = db.scalar(select(func.count()).select_from(Entry).where(Entry.folded == "oakx")) or 0
            faults = orphans(db)
            if engine.dialect.name == "sqlite":
                said = db.execute(text("PRAGMA quick_check")).scalar_one()
                faults += [] if said == "ok" else [said]
            return Form(
                db.scalar(text("SELECT version_num FROM alembic_version")),
                frozenset(column["name"] for column in inspect(engine).get_columns("build")),
                db.scalar(select(func.count(Build.id))) or 0,
                db.scalar(select(func.count(Entry.id))) or 0,
                rewritten,
                tuple(faults),
            )
    finally:
        engine.dispose()


@contextmanager
def copies(furnished: str, database: Server | None) -> Iterator[str]:
    """A copy of the furnished database, to be worked on."""
    path = database_file(furnished)
    if path is not None:
        folder = path.parent / "copy"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        shutil.copy(path, folder / path.name)
        yield f"sqlite:///{folder / path.name}"
        return
    assert database is not None
    admin = make_engine(database.url).execution_options(isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text("DROP DATABASE IF EXISTS copy WITH (FORCE)"))
        connection.execute(text("CREATE DATABASE copy TEMPLATE furnished"))
    yield database.url.replace("/postgres?", "/copy?")
    admin.dispose()


def run(folder: Path, rounds: int, size: int, chance: Random, database: Server | None = None) -> Figures:
    """Interrupt the same migration so many times, each time on a fresh copy."""
    furnished = _furnished(folder, size, database)
    scripts = later.scripts(folder, *STEPS)
    with copies(furnished, database) as url:
        old = form_of(url)
        began = time.monotonic()
        migrate.upgrade(url, scripts)
        span = time.monotonic() - began
        new = form_of(url)
    wrong = _differences(old, new)
    at_old = 0
    for number in range(1, rounds + 1):
        with copies(furnished, database) as url:
            interrupted("migrate", url, str(scripts), chance.uniform(0, span))
            found = form_of(url)
            at_old += found == old
            if found not in (old, new):
                wrong.append(f"round {number}: neither old nor new: {found}")
            wrong += _broken_copy(url, old)
            migrate.upgrade(url, scripts)
            if form_of(url) != new:
                wrong.append(f"round {number}: the next start does not finish it: {form_of(url)}")
    name = f"migration interrupted, {'SQLite' if database is None else 'PostgreSQL'}"
    more = (
        f"{size} lines rewritten in {span:.1f} s; {at_old} times the old form was left, {rounds - at_old} times the new"
    )
    return Figures(name, rounds, rounds, rounds - len(wrong), tuple(wrong), 0.0, more)


def _furnished(folder: Path, size: int, database: Server | None) -> str:
    if database is None:
        url = f"sqlite:///{folder / 'benchtide.db'}"
    else:
        admin = make_engine(database.url).execution_options(isolation_level="AUTOCOMMIT")
        with admin.connect() as connection:
            connection.execute(text("CREATE DATABASE furnished"))
        admin.dispose()
        url = database.url.replace("/postgres?", "/furnished?")
    furnish(url, size)
    return url


def _differences(old: Form, new: Form) -> list[str]:
    """What would make the loop worthless: forms that cannot be told apart, or that are wrong by themselves."""
    is_told = new.columns - old.columns == {"x", "y"} and new.rewritten == new.entries == old.entries
    is_whole = not old.faults and not new.faults and new.revision == NEWEST and new.builds == old.builds
    return [] if is_told and is_whole else [f"the loop cannot tell old from new: {old}, {new}"]


def _broken_copy(url: str, old: Form) -> list[str]:
    """The copy that is laid beside a SQLite file has its name only once it is whole."""
    path = database_file(url)
    if path is None:
        return []
    wrong = []
    for copy in path.parent.glob("*.before-*.db"):
        with closing(sqlite3.connect(f"file:{copy}?mode=ro&immutable=1", uri=True)) as found:
            said = found.execute("PRAGMA quick_check").fetchone()[0]
            lines = found.execute("SELECT count(*) FROM entry").fetchone()[0]
        if (said, lines) != ("ok", old.entries):
            wrong.append(f"{copy.name} is not whole: {said}, {lines} lines")
    return wrong
