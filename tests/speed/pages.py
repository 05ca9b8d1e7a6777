"""How long every page takes in a shop with ten years behind it, beside a minimal page and beside a tenth of the years.

python tests/speed/pages.py [rounds] [part of the name of a page]

The minimal page has the same base template, sign-in and session, one query, and a table of 50 rows of 5 columns. It is
asked for right before each page, the two sizes one after the other in turn, and the shop's clock goes on by a minute
each round, so that nothing can be kept from the round before that a maker would not find kept. Nothing runs beside the
requests: what a page costs while a better plan is searched for tells `searching.py`. On SQLite; on PostgreSQL with
DATABASE_URL, in two schemas that are dropped again.
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from flask import Flask, render_template
from flask.testing import FlaskClient
from jinja2 import ChoiceLoader, DictLoader
from sqlalchemy import Engine, create_engine, event, make_url, select, text

from tests.pages import Page, pages
from tests.years import lay_down, signed_in
from tests.years_piece import NOW, Size
from webapp.app import create_app
from webapp.builds.models import Operation
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.db.session import Sessions, session
from webapp.settings import Settings
from webapp.web.guard import visitor

TEN_YEARS = Size(builds=500)
ROUNDS = 15
# on a box that others work on, the time of this process says more than that on the wall: BENCHTIDE_CLOCK=process
now = time.process_time if os.environ.get("BENCHTIDE_CLOCK") == "process" else time.perf_counter
LIMIT, PLAN_LIMIT, GROWTH = 3, 8, 1.2
# these lay out the whole shop's plan, and the first three draw it
PLANS = ("days.show", "builds.show", "builds.index")
MINIMAL = """{% extends "base.html" %}{% block main %}<table>{% for row in rows %}<tr>{% for value in row %}
<td>{{ value }}</td>{% endfor %}</tr>{% endfor %}</table>{% endblock %}"""


class Clock:
    def __init__(self) -> None:
        self.moment = NOW

    def __call__(self) -> object:
        return self.moment


@dataclass
class Timed:
    """What was measured of one page, in seconds."""

    page: Page
    queries: int
    first: float
    minimal: list[float] = field(default_factory=list)
    tenth: list[float] = field(default_factory=list)
    whole: list[float] = field(default_factory=list)

    @property
    def ratio(self) -> float:
        return statistics.median(self.whole) / statistics.median(self.minimal)

    @property
    def growth(self) -> float:
        return statistics.median(self.whole) / statistics.median(self.tenth)


@dataclass
class Place:
    """One size of shop behind an app of its own, with somebody signed in to it."""

    app: Flask
    engine: Engine
    client: FlaskClient
    pages: list[Page]


def minimal() -> str:
    columns = (Operation.id, Operation.name, Operation.kind, Operation.minutes, Operation.position)
    rows = session().execute(select(*columns).where(Operation.shop_id == visitor().shop.id).limit(50)).all()
    return render_template("minimal.html", rows=rows)


@contextmanager
def place(url: str, folder: Path, clock: Clock, size: Size) -> Iterator[Place]:
    begun = time.perf_counter()
    migrate.upgrade(url)
    engine = make_engine(url)
    app = create_app(Settings(instance=folder, schedules=0), engine=engine, now=clock)
    app.jinja_env.loader = ChoiceLoader([DictLoader({"minimal.html": MINIMAL}), app.jinja_env.loader])
    app.add_url_rule("/minimal", view_func=minimal)
    with Sessions(engine).write() as db:
        years = lay_down(db, size)
        client = signed_in(app, db, years)
        found = [page for page in pages(app, db, years) if page.endpoint != "minimal"]
    if engine.dialect.name == "postgresql":
        with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.execute(text("ANALYZE"))
    took = time.perf_counter() - begun
    print(f"{size.builds} builds, {size.builds * size.steps} operations laid down in {took:.0f} s", file=sys.stderr)
    yield Place(app, engine, client, found)
    engine.dispose()


@contextmanager
def databases(folder: Path) -> Iterator[tuple[str, str]]:
    """Yield the addresses of two empty databases."""
    given = os.environ.get("DATABASE_URL")
    if given is None:
        yield f"sqlite:///{folder}/whole.db", f"sqlite:///{folder}/tenth.db"
        return
    names = ("speed_whole", "speed_tenth")
    engine = create_engine(given, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        for name in names:
            connection.execute(text(f"DROP SCHEMA IF EXISTS {name} CASCADE"))
            connection.execute(text(f"CREATE SCHEMA {name}"))
        try:
            urls = [make_url(given).update_query_dict({"options": f"-csearch_path={name}"}) for name in names]
            yield tuple(url.render_as_string(hide_password=False) for url in urls)  # type: ignore[misc]
        finally:
            for name in names:
                connection.execute(text(f"DROP SCHEMA {name} CASCADE"))


def seconds(client: FlaskClient, address: str) -> float:
    begun = now()
    client.get(address)
    return now() - begun


def looked_at(whole: Place) -> Iterator[tuple[int, Timed]]:
    """Yield (its place in the list, what is known of it) of each address that answers with a page of its own."""
    queries = []
    event.listen(whole.engine, "before_cursor_execute", lambda *args: queries.append(args[2]))
    for number, page in enumerate(whole.pages):
        queries.clear()
        begun = now()
        answer = whole.client.get(page.address)
        first = now() - begun
        if answer.status_code == 200 and answer.mimetype == "text/html":
            yield number, Timed(page, sum(not query.startswith("BEGIN") for query in queries), first)
        else:
            print(f"no page: {page.name}: {answer.status}, {answer.mimetype}", file=sys.stderr)


def measure(whole: Place, tenth: Place, clock: Clock, rounds: int, only: str) -> list[Timed]:
    found = [(number, timed) for number, timed in looked_at(whole) if only in timed.page.name]
    for number, _ in found:
        tenth.client.get(tenth.pages[number].address)
    for round_ in range(rounds):
        clock.moment += timedelta(minutes=1)
        for number, timed in found:
            timed.minimal.append(seconds(whole.client, "/minimal"))
            sizes = [(timed.whole, whole), (timed.tenth, tenth)]
            for times, one in sizes if round_ % 2 else reversed(sizes):
                times.append(seconds(one.client, one.pages[number].address))
    return [timed for _, timed in found]


def is_plan(timed: Timed) -> bool:
    return timed.page.endpoint in PLANS


def table(found: list[Timed]) -> None:
    print(f"{'page':66} {'queries':>7} {'ms':>6} {'x minimal':>9} {'x tenth':>7} {'first ms':>8}")
    for one in sorted(found, key=lambda one: (is_plan(one), -one.ratio)):
        ms = statistics.median(one.whole) * 1000
        numbers = f"{one.queries:7} {ms:6.1f} {one.ratio:9.2f} {one.growth:7.2f} {one.first * 1000:8.0f}"
        print(f"{one.page.name[:66]:66} {numbers}{' plan' if is_plan(one) else ''}")


def say(found: list[Timed]) -> None:
    plans = [one for one in found if is_plan(one)]
    others = [one for one in found if not is_plan(one)]
    base = statistics.median(time for one in found for time in one.minimal) * 1000
    print(f"minimal page: {base:.1f} ms; {len(found)} pages; no page may take more than {LIMIT} times as long,")
    print(f"no page that lays out the plan more than {PLAN_LIMIT} times, and none {GROWTH} times its tenth")
    if plans:
        print(f"worst page that lays out the plan: {max(one.ratio for one in plans):.2f} times the minimal page")
    ratio, growth = max((one.ratio for one in others), default=0), max(one.growth for one in found)
    print(f"worst page: {ratio:.2f} times the minimal page, {growth:.2f} times its own time at a tenth of the data")


if __name__ == "__main__":
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    clock = Clock()
    with tempfile.TemporaryDirectory() as name, databases(Path(name)) as (one, other):
        folder, small = Path(name), replace(TEN_YEARS, builds=TEN_YEARS.builds // 10)
        with place(one, folder, clock, TEN_YEARS) as whole, place(other, folder, clock, small) as tenth:
            timed = measure(whole, tenth, clock, rounds, sys.argv[2] if len(sys.argv) > 2 else "")
            table(timed)
            say(timed)
