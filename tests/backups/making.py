"""Instances to make backups of: two rows in every table, files behind the photos; and what stands there, compared."""

import hashlib
import json
import shutil
import sqlite3
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any, BinaryIO
from zipfile import ZIP_STORED, ZipFile

from sqlalchemy import JSON, BigInteger, Boolean, Column, Date, Engine, Float, Integer, String, insert, select, update

from webapp.backups.writing import ENDINGS
from webapp.db.engine import make_engine
from webapp.db.types import Exact, Instant
from webapp.tables import metadata

NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)
WORDS = "Ébène 1/4″ – „quoted“ \\u0000 \u2028 'single' 木\n\tsecond line 🪵"
PHOTOS = tuple(hashlib.sha256(f"original {number}".encode()).hexdigest() for number in (1, 2))
# what a check of its table asks for
GIVEN: dict[str, Any] = {
    "weekday": 3,
    "opens": 480,
    "closes": 1020,
    "waits_for_id": 2,
    "key": "mill",
    "time_zone": "America/New_York",
    "is_invented": False,
    "role": "owner",
    "status": "in the making",
}
KINDS: tuple[tuple[type, Any], ...] = (
    (Instant, NOW),
    (Exact, Decimal("12345678.1234")),
    (Date, date(2026, 2, 28)),
    (JSON, {"note": WORDS, "list": [1, -0.1, None, True, {"deep": []}]}),
    (Boolean, True),
    (Float, 20.1),
    (BigInteger, 2**40),
    (Integer, 7),
    (String, WORDS),
)


def fill(engine: Engine) -> None:
    """Put two rows into every table. The second lacks what a row may lack; the first refers to it where it can."""
    with engine.execution_options(write=True).begin() as connection:
        for table in metadata.sorted_tables:
            rows = [{one.name: _value(table.name, one, number) for one in table.columns} for number in (1, 2)]
            connection.execute(insert(table), rows)
            for one in (one for one in table.columns if _is_own(one)):
                connection.execute(update(table).where(table.c.id == 1).values({one: 2}))


def _is_own(column: Column[Any]) -> bool:
    return any(key.column.table is column.table for key in column.foreign_keys)


def _value(table: str, column: Column[Any], number: int) -> Any:
    if column.primary_key:
        return number if isinstance(column.type, Integer) else f"first {table} {number}"
    if _is_own(column) or (column.nullable and number == 2):
        return None
    if (table, column.name) == ("link", "operation_id"):
        return 1
    if (table, column.name) == ("photo", "sha256"):
        return PHOTOS[number - 1]
    if column.name in GIVEN:
        return GIVEN[column.name]
    if column.foreign_keys:
        return number
    found = next(found for kind, found in KINDS if isinstance(column.type, kind))
    return f"{found} {number}" if isinstance(found, str) else found


def add_photos(store: Any) -> None:
    """Put the files of the photos of `fill` into a store."""
    for number, sha256 in enumerate(PHOTOS, 1):
        for ending in ENDINGS:
            name = "original" if ending == "original" else f"picture {ending}"
            store.put(f"{sha256}.{ending}", BytesIO(f"{name} {number}".encode()))


def state(engine: Engine) -> dict[str, list[Any]]:
    """Return all rows of all tables. When sign-ins ended is left out: a restore ends them."""
    with engine.connect() as connection:
        return {
            table.name: [
                tuple(row)
                for row in connection.execute(
                    select(*(one for one in table.columns if one.name != "ended_at")).order_by(table.columns[0])
                )
            ]
            for table in metadata.sorted_tables
        }


def tree(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder with its bytes; SQLite's own beside its database are left out."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.endswith(("-wal", "-shm"))
    }


def settle(engine: Engine) -> None:
    """Bring all that was written into the file of the database itself."""
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")


def empty(template: Path, path: Path) -> Engine:
    """Return a SQLite database of its own with nothing in it."""
    shutil.copy(template, path)
    return make_engine(f"sqlite:///{path}")


class Elsewhere:
    """A store that has no folder on this computer."""

    def __init__(self) -> None:
        self.files: dict[str, bytes] = {}

    def put(self, key: str, source: BinaryIO) -> None:
        self.files.setdefault(key, source.read())

    def open(self, key: str) -> BinaryIO:
        if key not in self.files:
            raise FileNotFoundError(key)
        return BytesIO(self.files[key])

    def exists(self, key: str) -> bool:
        return key in self.files

    def delete(self, key: str) -> None:
        self.files.pop(key, None)

    def path(self, key: str) -> None:
        return None

    def kept(self) -> Iterator[tuple[str, datetime]]:
        yield from ((key, NOW) for key in self.files)


def members(path: Path) -> dict[str, bytes]:
    with ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def pack(path: Path, content: Mapping[str, bytes]) -> Path:
    with ZipFile(path, "w", ZIP_STORED) as archive:
        for name, found in content.items():
            archive.writestr(name, found)
    return path


def with_manifest(content: dict[str, bytes], **changes: Any) -> dict[str, bytes]:
    """Return the parts of an archive with other words in its manifest."""
    found = json.loads(content["manifest.json"])
    return {**content, "manifest.json": json.dumps({**found, **changes}).encode()}


def with_list(content: dict[str, bytes], name: str, text: bytes) -> dict[str, bytes]:
    """Return the parts of an archive with another list in it, and a manifest that swears to it."""
    found = json.loads(content["manifest.json"])
    part = {"count": len(text.splitlines()), "size": len(text), "sha256": hashlib.sha256(text).hexdigest()}
    if name == "photos.jsonl":
        found["photos"] = part
    else:
        found["rows"][name.removeprefix("rows/").removesuffix(".jsonl")] = part
    return {**content, name: text, "manifest.json": json.dumps(found).encode()}


def with_value(content: dict[str, bytes], table: str, column: str, value: Any) -> dict[str, bytes]:
    """Return the parts of an archive with another value in the first row of a table."""
    name = f"rows/{table}.jsonl"
    first, *rest = content[name].split(b"\n")
    line = json.dumps({**json.loads(first), column: value}).encode()
    return with_list(content, name, b"\n".join([line, *rest]))


def revision_of(path: Path) -> str:
    with sqlite3.connect(path) as connection:
        return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])
