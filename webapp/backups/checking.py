"""Looking an archive over from end to end, before anything is made of it and after one was written."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from webapp.backups import blank, rows
from webapp.backups.layout import (
    CHUNK,
    MANIFEST,
    PHOTOS,
    READ_ME,
    ArchiveError,
    Manifest,
    newer,
    strict,
)
from webapp.backups.reading import Archive, Counted
from webapp.photos.models import original


@dataclass(frozen=True)
class Listed:
    """A file of a photo, by the list of an archive. Without size it was missing when the backup was made."""

    name: str
    size: int | None
    sha256: str | None

    @property
    def is_missing(self) -> bool:
        return self.size is None

    @property
    def is_damaged(self) -> bool:
        """Whether it is a photo as it was sent, but not the one its name says."""
        return self.name == original(self.name.split(".")[0]) and self.sha256 not in (None, self.name.split(".")[0])


@dataclass(frozen=True)
class Checked:
    """An archive that is whole, and its rows in a SQLite file."""

    archive: Archive
    manifest: Manifest
    database: Path
    photo_count: int
    missing: tuple[str, ...]
    damaged: tuple[str, ...]  # as they were sent, but not what their name says


def check(file: IO[bytes], folder: Path) -> Checked:
    """Return what an archive holds after reading all of it; raise ArchiveError where anything is wrong with it."""
    archive = Archive(file)
    manifest = archive.manifest()
    if manifest.revision not in blank.known():
        raise ArchiveError(newer(manifest.version, f"its tables have the form {manifest.revision[:40]!r}"))
    database = folder / "rows.db"
    blank.make(database, manifest.revision)
    photos = _load(archive, manifest, database)
    wrong = blank.faults(database)
    if wrong:
        raise ArchiveError(f"The rows do not go together: {wrong}.")
    found = list(_check_photos(archive, manifest, photos))
    _check_names(archive, manifest, found)
    missing = tuple(one.name for one in found if one.is_missing)
    damaged = tuple(one.name for one in found if one.is_damaged)
    return Checked(archive, manifest, database, len(photos), missing, damaged)


def _load(archive: Archive, manifest: Manifest, database: Path) -> list[str]:
    with closing(sqlite3.connect(database, isolation_level=None)) as connection:
        wanted = rows.tables(connection)
        odd = sorted(set(wanted) ^ set(manifest.rows))
        if odd:
            raise ArchiveError(f"The tables are not those of its form ({odd[0]}).")
        connection.execute("PRAGMA synchronous=OFF")
        connection.execute("BEGIN")
        for table, columns in wanted.items():
            part = manifest.rows[table]
            rows.load(connection, table, columns, archive.lines(f"rows/{table}.jsonl", part))
        photos = rows.photos(connection)
        connection.execute("COMMIT")
    return photos


def listed(archive: Archive, manifest: Manifest) -> Iterator[Listed]:
    """Yield the files of photos that an archive lists."""
    for line in archive.lines(PHOTOS, manifest.photos):
        one = strict(line, PHOTOS)
        if not isinstance(one, dict) or set(one) != {"name", "size", "sha256"}:
            raise ArchiveError(f"{PHOTOS} is not as it should be.")
        yield Listed(_text(one["name"]), _whole(one["size"]), None if one["sha256"] is None else _text(one["sha256"]))


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ArchiveError(f"{PHOTOS} is not as it should be.")
    return value


def _whole(value: Any) -> int | None:
    if value is not None and (not isinstance(value, int) or isinstance(value, bool)):
        raise ArchiveError(f"{PHOTOS} is not as it should be.")
    return value


def _check_photos(archive: Archive, manifest: Manifest, photos: list[str]) -> Iterator[Listed]:
    """Hold the list to the rows, one file after the other, and each file to its hash."""
    wanted = (f"{sha256}.{ending}" for sha256 in photos for ending in manifest.endings)
    for one in listed(archive, manifest):
        name = next(wanted, "nothing more")
        if one.name != name:
            raise ArchiveError(f"{PHOTOS} lists {one.name[:80]!r} where the rows name {name}.")
        if not one.is_missing:
            _check_photo(archive, one)
        yield one
    name = next(wanted, "")
    if name:
        raise ArchiveError(f"{PHOTOS} does not list {name}, which a row names.")


def _check_photo(archive: Archive, one: Listed) -> None:
    with archive.open(f"photos/{one.name}") as file:
        counted = Counted(file)
        while counted.read(CHUNK):
            pass
    if (counted.size, counted.sha256) != (one.size, one.sha256):
        raise ArchiveError(f"photos/{one.name} is not the file it was.")


def _check_names(archive: Archive, manifest: Manifest, found: list[Listed]) -> None:
    wanted = {MANIFEST, READ_ME, PHOTOS}
    wanted |= {f"rows/{table}.jsonl" for table in manifest.rows}
    wanted |= {f"photos/{one.name}" for one in found if not one.is_missing}
    odd = sorted(archive.names ^ wanted)
    if odd:
        raise ArchiveError(f"The archive {'holds' if odd[0] in archive.names else 'lacks'} {odd[0]}, unlike its list.")
