"""How long pages take in a shop with ten years behind it, beside a tenth of that.

python tests/speed/pages.py
"""

import statistics
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.app import create_app
from webapp.builds.models import Build, Link, Operation
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.journal.models import Entry
from webapp.settings import Settings
from webapp.shops.models import Maker

PAST, STEPS, OPEN, RUNS = 500, 20, 6, 7
NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)


def build(db: Session, maker: Maker, number: int, *, is_past: bool) -> int:
    """A build of so many steps, one after the other; a past one with a line of the journal for each."""
    begun = NOW - timedelta(days=7 * (number + 5))
    status = "closed" if is_past else "in the making"
    found = Build(shop_id=maker.shop_id, name=f"Piece {number}", status=status, created_at=begun)
    db.add(found)
    db.flush()
    before: Operation | None = None
    for step in range(STEPS):
        one = Operation(
            shop_id=maker.shop_id, build_id=found.id, key=f"o{step}", name=f"Step {step}", kind="cut", position=step,
            minutes=60,
        )  # fmt: skip
        one.after = [Link(waits_for=before)] if before else []
        db.add(one)
        db.flush()
        before = one
        if is_past:
            at = begun + timedelta(hours=2 * step)
            for kind, later in (("started", 0), ("done", 1)):
                moment = at + timedelta(hours=later)
                db.add(
                    Entry(
                        id=f"{found.id}-{step}-{kind}", shop_id=maker.shop_id, build_id=found.id, operation_id=one.id,
                        maker_id=maker.id, kind=kind, at=moment, arrived_at=moment, data={},
                    )
                )  # fmt: skip
    return found.id


def shop(app: Flask, past: int) -> tuple[FlaskClient, int]:
    with Session(app.extensions["sessions"].engine) as db:
        place = factories.shop(db, f"Shop of {past}")
        maker = factories.maker(db, place, f"Ada {past}")
        for number in range(past):
            build(db, maker, number, is_past=True)
        last = [build(db, maker, number, is_past=False) for number in range(OPEN)][-1]
        db.commit()
        return factories.client_of(app, db, place, f"Ada {past}"), last


def seconds(client: FlaskClient, address: str) -> float:
    found = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        assert client.get(address).status_code == 200
        found.append(time.perf_counter() - begin)
    return statistics.median(found)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(instance=Path(folder))
        migrate.upgrade(settings.database)
        engine = make_engine(settings.database)
        app = create_app(settings, engine=engine, now=lambda: NOW)
        (small, few), (large, many) = shop(app, PAST // 10), shop(app, PAST)
        for name, tenth, whole in (
            ("bench", "/", "/"),
            ("days", "/days", "/days"),
            ("build", f"/builds/{few}", f"/builds/{many}"),
            ("journal", "/journal", "/journal"),
            ("look back", "/lookback", "/lookback"),
        ):
            one, other = seconds(small, tenth), seconds(large, whole)
            size = f"{PAST} past builds, {PAST * STEPS} operations"
            print(f"{name}: {size}: {other * 1000:.0f} ms, {other / one:.2f} times a tenth of it")
        engine.dispose()
