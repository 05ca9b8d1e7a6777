"""benchtide sweep: remove files of photos that nothing names any more."""

import argparse

from sqlalchemy import exists, select
from sqlalchemy.orm import Session

from webapp.backups.scratch import sweep as sweep_scratch
from webapp.commands import Commands
from webapp.db.engine import make_engine
from webapp.db.start import bring_up
from webapp.photos.actions import sweep
from webapp.photos.models import Photo
from webapp.settings import read
from webapp.web.clock import system
from webapp.web.files import store_of
from webapp.web.filters import plural


def add(commands: Commands) -> None:
    parser = commands.add_parser("sweep", help="remove files of photos that nothing names, once they are a day old")
    parser.add_argument("--dry-run", action="store_true", help="only say which")
    parser.add_argument("--all", action="store_true", help="even where the database names no photo at all")
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    settings, now, delete = read(), system(), not found.dry_run
    bring_up(settings.database, "sweep", now)
    engine, store = make_engine(settings.database), store_of(settings)
    with Session(engine) as db:
        holds_back = delete and not found.all and not db.scalar(select(exists().select_from(Photo)))
        names = sweep(store, db, now, delete=delete and not holds_back)
    engine.dispose()
    if names and holds_back:
        print(f"The database names no photo, and files of photos lie there ({len(names)}). Is it the right database?")
        print("Nothing was removed. If they are to go: benchtide sweep --all")
        return 1
    names += [path.name for path in sweep_scratch(settings.instance, now, delete=delete)]
    for name in names:
        print(name)
    print(f"{plural(len(names), 'file')} {'removed' if delete else 'would be removed'}.")
    return 0
