"""Making a backup, noting that it was made, who may make one, and how old the last one is."""

import sqlite3
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import IO

from sqlalchemy import Engine, exists, select
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from webapp.backups.layout import ArchiveError
from webapp.backups.models import Backup
from webapp.backups.reading import Archive
from webapp.backups.scratch import forgotten
from webapp.backups.snapshot import BackupError, why
from webapp.backups.writing import Report, compose
from webapp.db.disk import sync_folder
from webapp.db.trouble import FULL, trouble_of
from webapp.shops.models import OWNER, Maker, Shop
from webapp.web.files import Store

NO_ROOM = (
    "There is no room for it in {} (or the disk takes no file so large), or none in {} for a copy of the database."
)


def write(engine: Engine, store: Store, path: Path, now: datetime, *, folder: Path, replace: bool = False) -> Report:
    """Make a backup of everything into a file; it stands there whole and checked, or not at all.

    `folder` is where a copy of the database lies meanwhile. A file that is there already is replaced when it is a
    backup, or when `replace` says so. Raises BackupError.
    """
    path = path.absolute()
    _check_place(path, replace)
    try:
        with _part_of(path, now) as file:
            try:
                report = compose(file, engine, store, now, folder)
                file.close()
                Path(file.name).replace(path)
            except BaseException:
                with suppress(OSError):  # a full disk says so again
                    file.close()
                Path(file.name).unlink(missing_ok=True)
                raise
        sync_folder(path.parent)
    except (OSError, DBAPIError, sqlite3.Error) as error:
        is_full = trouble_of(error) is FULL
        says = NO_ROOM.format(path.parent, folder) if is_full else why(error)
        raise BackupError(f"No backup was made. {says}") from error
    except ArchiveError as error:
        raise BackupError(f"No backup was made, for what was written could not be read back: {error}") from error
    return report


def _check_place(path: Path, replace: bool) -> None:
    if path.is_dir():
        raise BackupError(f"{path} is a folder. Name a file in it.")
    if not path.parent.is_dir():
        raise BackupError(f"There is no folder {path.parent}.")
    if path.exists() and not replace and not is_backup(path):
        raise BackupError(f"{path} is something else already. Name another file, or say --replace.")


def is_backup(path: Path) -> bool:
    """Return whether a file is a backup, by its names and its manifest."""
    try:
        with path.open("rb") as file:
            Archive(file).manifest()
    except (ArchiveError, OSError):
        return False
    return True


def _part_of(path: Path, now: datetime) -> IO[bytes]:
    """Return an empty file beside the place, for nobody else to read; those that a crash left there go."""
    for old in path.parent.glob(f".{path.name}.*.part"):
        if forgotten(old, now):
            with suppress(OSError):
                old.unlink()
    return NamedTemporaryFile("w+b", dir=path.parent, prefix=f".{path.name}.", suffix=".part", delete=False)


def note(db: Session, report: Report, way: str, by: str = "") -> Backup:
    """Note that a backup was made."""
    found = Backup(
        at=report.begun,
        by=by,
        way=way,
        size=report.size,
        row_count=report.row_count,
        photo_count=report.photo_count,
        missing_count=len(report.missing) + len(report.damaged),
    )
    db.add(found)
    return found


def newest(db: Session, count: int) -> list[Backup]:
    """Return the backups of this server that were made last."""
    return list(db.scalars(select(Backup).order_by(Backup.at.desc(), Backup.id.desc()).limit(count)))


def last(db: Session) -> Backup | None:
    """Return the newest backup of this server."""
    return next(iter(newest(db, 1)), None)


def owns_everything(db: Session, person_id: int) -> bool:
    """Return whether somebody owns every shop of this server, and at least one. Invented shops do not count."""
    is_theirs = exists().where(
        Maker.shop_id == Shop.id, Maker.person_id == person_id, Maker.role == OWNER, Maker.left_on.is_(None)
    )
    found = db.scalars(select(is_theirs).where(Shop.is_invented.is_(False))).all()
    return bool(found) and all(found)
