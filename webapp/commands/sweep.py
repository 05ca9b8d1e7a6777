"""benchtide sweep: remove files of photos that nothing names any more."""

import argparse

from sqlalchemy.orm import Session

from webapp.backups.scratch import sweep as sweep_scratch
from webapp.commands import Commands
from webapp.db.engine import make_engine
from webapp.db.start import bring_up
from webapp.photos.actions import sweep
from webapp.settings import read
from webapp.web.clock import system
from webapp.web.files import store_of
from webapp.web.filters import plural


def add(commands: Commands) -> None:
    parser = commands.add_parser("sweep", help="remove files of photos that nothing names, once they are a day old")
    parser.add_argument("--dry-run", action="store_true", help="only say which")
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    settings, now, delete = read(), system(), not found.dry_run
    bring_up(settings.database, "sweep", now)
    engine = make_engine(settings.database)
    with Session(engine) as db:
        names = sweep(store_of(settings), db, now, delete=delete)
    engine.dispose()
    names += [path.name for path in sweep_scratch(settings.instance, now, delete=delete)]
    for name in names:
        print(name)
    print(f"{plural(len(names), 'file')} {'removed' if delete else 'would be removed'}.")
    return 0
