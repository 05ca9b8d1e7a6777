"""The commands: benchtide serve, plan, account. Later: backup, restore, ticker."""

import argparse
import getpass
import logging
import sys
from pathlib import Path

import waitress
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from webapp.app import create_app
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.people import actions as people
from webapp.people.models import Person
from webapp.planning import answer
from webapp.settings import Settings, read
from webapp.web.clock import system

MEGABYTE = 1024 * 1024
SHORTEST_PASSWORD = 10
NO_ACCOUNT = """Benchtide was asked to listen on {}, where others can reach it, and no account has a password yet.
Make one first: benchtide account add NAME   (in a checkout: .venv/bin/python -m webapp account add NAME)"""


def main(arguments: list[str] | None = None) -> None:
    """Run a command and leave with its exit status."""
    parser = argparse.ArgumentParser(prog="benchtide", description="A project journal for furniture makers.")
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("serve", help="prepare the database and serve the pages").set_defaults(run=serve)
    plan = commands.add_parser("plan", help="plan a shop document and print the plan as JSON")
    plan.add_argument("document", type=Path)
    plan.set_defaults(run=print_plan)
    account = commands.add_parser("account", help="accounts of this server").add_subparsers(dest="verb", required=True)
    add = account.add_parser("add", help="add an account with a password, or set the password of one")
    add.add_argument("name")
    add.set_defaults(run=add_account)
    found = parser.parse_args(arguments)
    sys.exit(found.run(found))


def serve(_found: argparse.Namespace) -> int:
    settings = read()
    settings.instance.mkdir(parents=True, exist_ok=True)
    migrate.upgrade(settings.database)
    if not settings.is_local and not _has_password(settings):
        print(NO_ACCOUNT.format(settings.host), file=sys.stderr)
        return 1
    shown = "127.0.0.1" if settings.is_local else settings.host
    print(f"Benchtide is at http://{shown}:{settings.port}", flush=True)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    waitress.serve(
        create_app(settings),
        host=settings.host,
        port=settings.port,
        threads=settings.threads,
        max_request_body_size=2
        * settings.max_upload_mb
        * MEGABYTE,  # so that the page, not the server, says "too large"
        ident=None,
    )
    return 0


def _has_password(settings: Settings) -> bool:
    with Session(make_engine(settings.database)) as db:
        return bool(db.scalar(select(func.count()).where(Person.password_hash.is_not(None))))


def print_plan(found: argparse.Namespace) -> int:
    try:
        text = found.document.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        print(f"{found.document}: {error}", file=sys.stderr)
        return 2
    status, out, err = answer(text)
    sys.stdout.write(out)
    sys.stderr.write(err)
    return status


def add_account(found: argparse.Namespace) -> int:
    password = getpass.getpass("Password: ") if sys.stdin.isatty() else sys.stdin.readline().rstrip("\n")
    if len(password) < SHORTEST_PASSWORD:
        print(f"At least {SHORTEST_PASSWORD} characters, please.", file=sys.stderr)
        return 1
    settings = read()
    settings.instance.mkdir(parents=True, exist_ok=True)
    migrate.upgrade(settings.database)
    engine = make_engine(settings.database)
    with Session(engine, execution_options={"write": True}) as db:
        person = people.person_named(db, found.name)
        if person is None:
            people.add_person(db, found.name, password, system())
            said = "added"
        else:
            people.set_password(person, password)
            said = "has a new password"
        db.commit()
    print(f"{found.name}: {said}")
    return 0
