"""benchtide restore: bring a backup back, whole or not at all."""

import argparse
import sqlite3
from datetime import datetime
from pathlib import Path

from webapp.backups import blank, restoring
from webapp.backups.checking import Checked
from webapp.backups.restoring import Restored, RestoreError
from webapp.commands import Commands
from webapp.commands.backup import lacking
from webapp.db import instance
from webapp.db.engine import make_engine
from webapp.db.start import ready
from webapp.db.trouble import DAMAGED as TROUBLE
from webapp.db.trouble import StartError, trouble_of
from webapp.settings import Settings, read
from webapp.web.clock import system
from webapp.web.files import store_of
from webapp.web.filters import plural

IN_USE = "{} on this database. Stop every server of Benchtide first, and what else uses it."

DAMAGED = (
    "Nothing was restored, for {0} is damaged. Move it out of the way, with what lies beside it under the same name "
    "(-wal, -shm), and restore again. ({1})"
)


def add(commands: Commands) -> None:
    parser = commands.add_parser("restore", help="replace everything here by what a backup holds")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument(
        "--without-backup", action="store_true", help="do not first make a backup of what stands here now"
    )
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    settings, now = read(), system()
    keep = found.file.with_name(f"benchtide-before-{now.astimezone():%Y-%m-%d-%H%M%S}.zip")
    _check_alone(settings, now)
    with restoring.prepared(found.file, now, folder=settings.instance) as archive:
        try:
            with ready(settings.database, "restore", now):
                restored = _restore(archive, settings, now, None if found.without_backup else keep)
        except StartError as error:
            damaged = _damaged(settings)
            if damaged is None:
                raise
            raise RestoreError(DAMAGED.format(damaged, error)) from error
    return _say(restored, keep)


def _damaged(settings: Settings) -> Path | None:
    """Return the file of the database where it cannot be used any more."""
    database = instance.database_file(settings.database)
    if database is None or not database.exists():
        return None
    try:
        return database if blank.faults(database) else None
    except sqlite3.DatabaseError as error:
        return database if trouble_of(error) is TROUBLE else None


def _check_alone(settings: Settings, now: datetime) -> None:
    """Find a server that runs here before the backup is read, which may take minutes."""
    database = instance.database_file(settings.database)
    if database is not None and database.exists():
        with instance.held(settings.database, "restore", now):
            pass


def _restore(archive: Checked, settings: Settings, now: datetime, keep: Path | None) -> Restored:
    engine = make_engine(settings.database)
    try:
        others = restoring.others(engine)
        if others:
            raise RestoreError(IN_USE.format(plural(others, "other connection is", "other connections are")))
        return restoring.put_in_place(archive, engine, store_of(settings), now, folder=settings.instance, keep=keep)
    finally:
        engine.dispose()


def _say(restored: Restored, keep: Path) -> int:
    begun = restored.begun.astimezone()
    print(
        f"Restored: {plural(restored.row_count, 'row')} and {plural(restored.photo_count, 'photo')}, as they were on "
        f"{begun:%A}, {begun.day} {begun:%B %Y at %H:%M}. Everybody signs in again."
    )
    if restored.kept is not None:
        print(f"What stood here before is in {keep} ({restored.kept.says}).")
        lacking(restored.kept)
    if restored.missing:
        print(f"{plural(len(restored.missing), 'file')} of photos missing or damaged in it.")
    return 0
