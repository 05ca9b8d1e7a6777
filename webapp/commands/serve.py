"""benchtide serve: prepare the database and serve the pages."""

import argparse
import logging
import sys

import waitress
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from webapp.app import create_app
from webapp.commands import Commands
from webapp.db import place
from webapp.db.engine import make_engine
from webapp.db.start import ready
from webapp.people.models import Person
from webapp.settings import LOOPBACK, Settings, read
from webapp.web.clock import system

MEGABYTE = 1024 * 1024
NO_ACCOUNT = """Benchtide was asked to listen on {}, where others can reach it, and no account has a password yet.
Make one first: benchtide account add NAME   (in a checkout: .venv/bin/python -m webapp account add NAME)"""


def add(commands: Commands) -> None:
    commands.add_parser("serve", help="prepare the database and serve the pages").set_defaults(run=run)


def run(_found: argparse.Namespace) -> int:
    settings = read()
    with ready(settings.database, "serve", system()):
        place.check_folder(settings.instance)
        return _serve(settings)


def _serve(settings: Settings) -> int:
    if not settings.is_local and not _has_password(settings):
        print(NO_ACCOUNT.format(settings.host), file=sys.stderr)
        return 1
    print(f"Benchtide is at {' and '.join(_addresses(settings))}", flush=True)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    waitress.serve(
        create_app(settings),
        host=settings.host,
        port=settings.port,
        threads=settings.threads,
        max_request_body_size=2 * settings.max_upload_mb * MEGABYTE,  # the page, not the server, says "too large"
        # the app must see what proxies leave behind: to believe BENCHTIDE_PROXIES of them, and to trust nobody else
        clear_untrusted_proxy_headers=False,
        ident=None,
    )
    return 0


def _addresses(settings: Settings) -> list[str]:
    names = ["127.0.0.1"] if settings.is_local else [name for name in settings.hosts if name not in LOOPBACK]
    return [f"http://{name}:{settings.port}" for name in names or [settings.host]]


def _has_password(settings: Settings) -> bool:
    engine = make_engine(settings.database)
    with Session(engine) as db:
        found = bool(db.scalar(select(func.count()).where(Person.password_hash.is_not(None))))
    engine.dispose()
    return found
