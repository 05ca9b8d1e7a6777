"""A restore is killed at any instant: what stood there before, or what the backup holds; begun again it ends well."""

import time
import uuid
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from sqlalchemy import insert
from sqlalchemy.orm import Session

from tests import factories
from tests.faults.checks import look
from tests.faults.child import interrupted
from tests.faults.figures import Figures
from tests.faults.ledger import Acknowledged
from tests.faults.load import picture
from tests.faults.servers import Benchtide
from tests.postgres import Server
from webapp.backups import restoring
from webapp.backups.actions import write
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.journal.models import Entry
from webapp.photos.actions import add
from webapp.photos.intake import receive_all
from webapp.web.files import Folder

AT = datetime(2026, 2, 3, tzinfo=UTC)


def furnish(server: Benchtide, name: str, notes: int, photos: int) -> Acknowledged:
    """Fill an instance that no server runs on with lines and photos of its own."""
    migrate.upgrade(server.url)
    store, zone = Folder(server.settings.photos), ZoneInfo("UTC")
    sent = [(f"{one}.jpg", BytesIO(picture(f"{name} {one}"))) for one in range(photos)]
    received = receive_all(sent, store, zone).received
    lines = {str(uuid.uuid4()): f"{name}, line {one}" for one in range(notes)}
    engine = make_engine(server.url)
    with Session(engine, execution_options={"write": True}) as db:
        shop = factories.shop(db, name)
        build = factories.build(db, shop)
        line = {"shop_id": shop.id, "build_id": build.id, "kind": "noted", "at": AT, "arrived_at": AT, "folded": ""}
        db.execute(insert(Entry), [{**line, "id": key, "data": {"note": words}} for key, words in lines.items()])
        add(db, received, now=AT, shop_id=shop.id, maker_id=None, build=build)
        db.commit()
    engine.dispose()
    return Acknowledged(lines, frozenset(one.sha256 for one in received))


def back_up(server: Benchtide, path: Path) -> None:
    engine = make_engine(server.url)
    write(engine, Folder(server.settings.photos), path, datetime.now(UTC), folder=server.instance)
    engine.dispose()


def restore(server: Benchtide, path: Path) -> float:
    """Restore without being interrupted; how long it took."""
    began, engine = time.monotonic(), make_engine(server.url)
    restoring.restore(path, engine, Folder(server.settings.photos), datetime.now(UTC), folder=server.instance)
    engine.dispose()
    return time.monotonic() - began


def state(server: Benchtide, old: Acknowledged, new: Acknowledged) -> tuple[str, list[str]]:
    """Return which of the two stands there now, and what is wrong with it."""
    found = {name: look(server.url, server.settings.photos, wanted) for name, wanted in (("old", old), ("new", new))}
    whole = [name for name, one in found.items() if not one.wrong]
    if len(whole) == 1:
        return whole[0], []
    return "", [f"{name}: {one.wrong[:3]}" for name, one in found.items()]


def run(folder: Path, rounds: int, notes: int, photos: int, chance: Random, database: Server | None = None) -> Figures:
    """Interrupt the restore of a backup into a standing instance so many times."""
    first, second = Benchtide(folder / "first"), Benchtide(folder / "second", database.url if database else "")
    for server in (first, second):
        server.instance.mkdir()
    new, old = furnish(first, "Before", notes, photos), furnish(second, "Now", notes, photos)
    archive, back = folder / "before.zip", folder / "now.zip"
    for server, path in ((first, archive), (second, back)):
        back_up(server, path)
    span = restore(second, archive)
    wrong = state(second, old, new)[1]
    at_old = 0
    for number in range(1, rounds + 1):
        restore(second, back)
        interrupted("restore", "--without-backup", str(archive), chance.uniform(0, 1.6 * span), second.environ)
        name, faults = state(second, old, new)
        at_old += name == "old"
        wrong += [f"round {number}: {one}" for one in faults]
        restore(second, archive)
        if state(second, old, new)[0] != "new":
            wrong.append(f"round {number}: begun again it does not end well")
    left = f"{at_old} times the old state was left, {rounds - at_old} times the new"
    more = f"{notes} lines, {photos} photos, {span:.1f} s; {left}"
    name = f"restore interrupted, {'PostgreSQL' if database else 'SQLite'}"
    return Figures(name, rounds, rounds, rounds - len(wrong), tuple(wrong), 0.0, more)
