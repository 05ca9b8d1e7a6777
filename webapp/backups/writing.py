"""Writing an archive: the rows of one moment, then every file that they name. Memory stays flat."""

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import IO
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from sqlalchemy import Engine

from webapp.backups import rows, snapshot
from webapp.backups.checking import check
from webapp.backups.layout import CHUNK, MANIFEST, PHOTOS, READ_ME, SAYS, VERSION, Manifest, Part, line_of
from webapp.backups.scratch import scratch
from webapp.db.disk import sync_file
from webapp.photos.models import key, original
from webapp.web.files import Store
from webapp.web.filters import plural
from webapp.web.images import SIZES

KILO = 1000
ENDINGS = (original("").lstrip("."), *(key("", size).lstrip(".") for size in SIZES))


def size_said(count: int) -> str:
    """Return a number of bytes in words: 1.2 GB."""
    size, units = count / KILO, ["kB", "MB", "GB", "TB"]
    while size >= KILO and len(units) > 1:
        size /= KILO
        units.pop(0)
    return f"{size:.1f} {units[0]}"


@dataclass(frozen=True)
class Report:
    """What went into a backup."""

    begun: datetime
    revision: str
    size: int
    row_count: int
    photo_count: int
    missing: tuple[str, ...]  # files of photos that the store does not have
    damaged: tuple[str, ...]  # photos as sent that are not what their name says: a disk that fails

    @property
    def is_whole(self) -> bool:
        return not self.missing and not self.damaged

    @property
    def says(self) -> str:
        """What it holds, in words: 12345 rows and 180 photos, 1.2 GB."""
        return f"{plural(self.row_count, 'row')} and {plural(self.photo_count, 'photo')}, {size_said(self.size)}"


def compose(file: IO[bytes], engine: Engine, store: Store, now: datetime, folder: Path) -> Report:
    """Write an archive into an empty file that can be read too, sync it, read all of it back, and say what it holds.

    `folder` is where a copy of the database lies meanwhile. Raises BackupError, ArchiveError, OSError.
    """
    with scratch(folder, now) as work:
        database = work / "snapshot.db"
        revision = snapshot.take(engine, database)
        _write(file, database, revision, store, now)
        file.flush()
        sync_file(file.fileno())
        found = check(file, work)
    size = file.seek(0, 2)
    manifest = found.manifest
    return Report(now, revision, size, manifest.row_count, found.photo_count, found.missing, found.damaged)


def _write(file: IO[bytes], database: Path, revision: str, store: Store, now: datetime) -> None:
    with ZipFile(file, "w", ZIP_STORED) as archive, closing(sqlite3.connect(database)) as connection:
        parts = {}
        for table, columns in rows.tables(connection).items():
            parts[table] = _put(archive, f"rows/{table}.jsonl", rows.lines(connection, table, columns), now)
        listed = [line for sha256 in rows.photos(connection) for line in _photos(archive, sha256, store, now)]
        photos = _put(archive, PHOTOS, listed, now)
        manifest = Manifest(VERSION, revision, now, ENDINGS, photos, parts)
        _put(archive, READ_ME, [SAYS.encode()], now)
        _put(archive, MANIFEST, [manifest.text().encode()], now)


def _photos(archive: ZipFile, sha256: str, store: Store, now: datetime) -> Iterator[bytes]:
    for name in (f"{sha256}.{ending}" for ending in ENDINGS):
        try:
            source = store.open(name)
        except FileNotFoundError:
            yield line_of({"name": name, "size": None, "sha256": None})
            continue
        with source:
            part = _put(archive, f"photos/{name}", _chunks(source), now)
        yield line_of({"name": name, "size": part.size, "sha256": part.sha256})


def _chunks(source: IO[bytes]) -> Iterator[bytes]:
    while chunk := source.read(CHUNK):
        yield chunk


def _put(archive: ZipFile, name: str, chunks: Iterable[bytes], now: datetime) -> Part:
    info = ZipInfo(name, now.timetuple()[:6])
    info.external_attr = 0o600 << 16
    found, count, size = hashlib.sha256(), 0, 0
    with archive.open(info, "w", force_zip64=True) as file:
        for chunk in chunks:
            file.write(chunk)
            found.update(chunk)
            count += 1
            size += len(chunk)
    return Part(count, size, found.hexdigest())
