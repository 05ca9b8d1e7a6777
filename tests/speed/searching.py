"""What a page costs while a better plan is searched for beside it, and how long that search takes.

python tests/speed/searching.py [builds still open]

The shop has that many builds in the making (10 by default, of 30 operations). Pages are asked for with nothing beside
them and while the search runs, in turn; each change of the shop begins one. On SQLite.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from flask.testing import FlaskClient
from sqlalchemy import event
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from webapp.app import create_app
from webapp.builds.models import Build
from webapp.days.seeker import seeker
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.db.mark import renew
from webapp.settings import Settings
from webapp.shops.models import Shop

STEPS, ROUNDS, EACH, GAP = 30, 5, 12, 0.05
KINDS = ("rough mill", "joinery", "shape", "sand", "fit hardware")
PAGES = ("/", "/days", "/builds")


def builds(db: Session, shop: Shop, count: int) -> list[Build]:
    """Chains of operations, those listed last due first: so there is something to be found."""
    found = []
    for number in range(count):
        due = START.date() + timedelta(days=20 + 4 * (count - number))
        build = factories.build(db, shop, f"Build {number}", due_on=due)
        before = None
        for place in range(STEPS):
            after = [before] if before else []
            minutes = 20 + 7 * (place % 9)
            kind = KINDS[place % len(KINDS)]
            before = factories.operation(db, build, f"o{place}", kind=kind, minutes=minutes, after=after)
        found.append(build)
    return found


def seconds(client: FlaskClient, address: str) -> float:
    begun = time.perf_counter()
    answer = client.get(address)
    assert answer.status_code == 200, (address, answer.status)
    return time.perf_counter() - begun


def change(db: Session, build: Build) -> None:
    build.due_on = build.due_on + timedelta(days=1) if build.due_on else None
    db.commit()


def search(client: FlaskClient) -> float:
    """Begin a search by asking for the plan and let it run alone; return how many seconds of a core it took."""
    client.get("/days")
    begun = time.process_time()
    assert seeker.wait(600)
    return time.process_time() - begun


def alone(client: FlaskClient) -> Iterator[tuple[str, float]]:
    """Yield (address, seconds) of pages, the first of which lays out the plan anew."""
    for number in range(EACH):
        address = PAGES[number % len(PAGES)]
        yield address, seconds(client, address)
        time.sleep(GAP)


def beside(client: FlaskClient) -> Iterator[tuple[str, float]]:
    """The same while a search runs."""
    for address, took in alone(client):
        if seeker.wait(0):
            return
        yield address, took


def say(found: dict[str, dict[str, list[float]]], took: list[float], schedules: int, operations: int) -> None:
    print(f"{operations} operations, {schedules} orders: a search takes {statistics.median(took):.1f} s of a core")
    for address in PAGES:
        quiet, busy = (sorted(found[kind][address]) for kind in ("alone", "beside"))
        numbers = f"{statistics.median(quiet) * 1000:.0f} ms alone"
        beside_it = f"{statistics.median(busy) * 1000:.0f} ms beside a search, {busy[-1] * 1000:.0f} at most"
        print(f"{address:8} {numbers}, {beside_it} ({len(busy)} asked)")


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    found: dict[str, dict[str, list[float]]] = {kind: {page: [] for page in PAGES} for kind in ("alone", "beside")}
    with tempfile.TemporaryDirectory() as name:
        settings, clock = Settings(instance=Path(name)), Clock()
        migrate.upgrade(settings.database)
        engine = make_engine(settings.database)
        app = create_app(settings, engine=engine, now=clock)
        with Session(engine, execution_options={"write": False}) as db:
            event.listen(db, "before_commit", renew)
            shop = factories.shop(db)
            client, rows = factories.client_of(app, db, shop, "Ada"), builds(db, shop, count)
            took = [search(client)]
            for number in range(ROUNDS):
                for kind, ask in (("alone", alone), ("beside", beside)):
                    change(db, rows[number % count])
                    app.config["SETTINGS"] = settings if kind == "beside" else replace(settings, schedules=0)
                    client.get("/days")
                    for address, one in ask(client):
                        found[kind][address].append(one)
                seeker.wait()
                change(db, rows[number % count])
                took.append(search(client))
        engine.dispose()
    say(found, took, settings.schedules, count * STEPS)
