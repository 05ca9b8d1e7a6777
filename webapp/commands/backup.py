"""benchtide backup: everything of this server in one file, checked, while the server runs."""

import argparse
import sys
from pathlib import Path

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from webapp.backups import actions, blank
from webapp.backups.models import COMMAND
from webapp.backups.writing import Report
from webapp.commands import Commands
from webapp.db.engine import make_engine
from webapp.settings import read
from webapp.web.clock import system
from webapp.web.files import store_of

SHOWN = 20


def add(commands: Commands) -> None:
    parser = commands.add_parser("backup", help="put the database and the photos into one file, while the server runs")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--replace", action="store_true", help="also when FILE is something else than a backup")
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    settings = read()
    engine = make_engine(settings.database)
    try:
        report = actions.write(
            engine, store_of(settings), found.file, system(), folder=settings.instance, replace=found.replace
        )
        _note(engine, report)
    finally:
        engine.dispose()
    print(f"{found.file}: {report.says}; all of it read back.")
    return 0 if report.is_whole else lacking(report)


def lacking(report: Report) -> int:
    """Say which files a backup lacks, and return the exit status for that."""
    for names, says in ((report.missing, "missing in the photo store"), (report.damaged, "damaged in the photo store")):
        for name in names[:SHOWN]:
            print(f"{name}: {says}", file=sys.stderr)
        if len(names) > SHOWN:
            print(f"and {len(names) - SHOWN} more {says}; photos.jsonl in the backup names them all", file=sys.stderr)
    return 0 if report.is_whole else 1


def _note(engine: Engine, report: Report) -> None:
    """Let the pages know. Tables in the form of an earlier version have no place for it."""
    if report.revision != blank.newest():
        return
    try:
        with Session(engine, execution_options={"write": True}) as db:
            actions.note(db, report, COMMAND)
            db.commit()
    except DBAPIError as error:
        print(f"The backup is made, but could not be noted for the pages: {error.orig}", file=sys.stderr)
