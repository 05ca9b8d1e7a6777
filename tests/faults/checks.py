"""Whether a database and its photos hold all that was acknowledged, and nothing half."""

import hashlib
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from PIL import Image
from sqlalchemy import Engine, exists, func, select
from sqlalchemy.orm import Session

from tests.faults.ledger import Acknowledged
from webapp.db.engine import make_engine
from webapp.journal.models import Entry
from webapp.photos.actions import sweep
from webapp.photos.models import Photo, key, original
from webapp.planning.corrections import effective
from webapp.planning.entry import Entry as Line
from webapp.planning.record import fold_operations
from webapp.tables import metadata
from webapp.web.files import Folder
from webapp.web.images import SIZES


@dataclass
class Found:
    """What is there of what was acknowledged, and all that is wrong."""

    notes: int = 0
    photos: int = 0
    wrong: list[str] = field(default_factory=list)
    swept: int = 0

    def __len__(self) -> int:
        return self.notes + self.photos


def look(url: str, photos: Path, wanted: Acknowledged) -> Found:
    """Look into a database and the folder of its photos while no server runs; sweep what no row names."""
    found, engine, store = Found(), make_engine(url), Folder(photos)
    try:
        with Session(engine, execution_options={"write": False}) as db:
            found.wrong += _broken(engine, db)
            _look_for_notes(db, wanted, found)
            found.swept = len(sweep(store, db, datetime.now(UTC) + timedelta(seconds=1), age=timedelta(0)))
            _look_for_photos(db, store, wanted, found)
            _fold(db)
    finally:
        engine.dispose()
    return found


def _broken(engine: Engine, db: Session) -> list[str]:
    if engine.dialect.name == "sqlite":
        said = db.connection().exec_driver_sql("PRAGMA quick_check").scalars().all()
        return [] if said == ["ok"] else [f"quick_check: {said[:3]}"]
    return []


def orphans(db: Session) -> list[str]:
    """Return the columns that name rows that are not there, asked in the same words on both databases."""
    found = []
    for table in metadata.sorted_tables:
        for one in table.foreign_keys:
            other = one.column.table.alias()
            there = exists().where(other.c[one.column.name] == one.parent)
            count = db.scalar(select(func.count()).select_from(table).where(one.parent.is_not(None), ~there))
            found += [f"{count} rows of {table.name}.{one.parent.name} name nothing"] if count else []
    return found


def _look_for_notes(db: Session, wanted: Acknowledged, found: Found) -> None:
    found.wrong += orphans(db)
    stored = {row.id: row.data.get("note") for row in db.execute(select(Entry.id, Entry.data))}
    for one, words in wanted.notes.items():
        if stored.get(one) == words:
            found.notes += 1
        else:
            found.wrong.append(f"line {one} ({words}) is {stored.get(one, 'lost')}")
    found.wrong += [f"photo {one} has no line" for one in db.scalars(select(Photo.id)) if f"photo-{one}" not in stored]


def _look_for_photos(db: Session, store: Folder, wanted: Acknowledged, found: Found) -> None:
    rows = list(db.scalars(select(Photo.sha256)))
    kept = {name for name, _ in store.kept()}
    named = {name for one in rows for name in (original(one), *(key(one, size) for size in SIZES))}
    found.wrong += [f"{name} lies there for nothing" for name in sorted(kept - named)]
    found.wrong += [f"{name} is lost" for name in sorted(named - kept)]
    found.wrong += [f"photo {one} is there {rows.count(one)} times" for one in wanted.photos if rows.count(one) != 1]
    for one in wanted.photos & set(rows):
        if _is_whole(store, one):
            found.photos += 1
        else:
            found.wrong.append(f"the files of photo {one} are broken")


def _is_whole(store: Folder, sha256: str) -> bool:
    with store.open(original(sha256)) as file:
        if hashlib.sha256(file.read()).hexdigest() != sha256:
            return False
    for size in SIZES:
        with store.open(key(sha256, size)) as file, Image.open(file) as image:
            image.load()
    return True


def _fold(db: Session) -> None:
    """The journal folds: whatever was interrupted, what stands can be told."""
    entries = [
        Line(
            row.id,
            row.at,
            row.arrived_at,
            row.kind,
            row.maker_id,
            row.operation_id,
            row.build_id,
            row.data,
            row.corrects,
        )
        for row in db.scalars(select(Entry))
    ]
    now = datetime.now(UTC) + timedelta(days=1)
    fold_operations(entries, now)
    effective(entries)
