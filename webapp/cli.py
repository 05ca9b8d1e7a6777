"""The commands: benchtide serve, plan, account."""

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
from webapp.people.actions import SHORTEST_PASSWORD
from webapp.people.models import Person
from webapp.planning.document import answer
from webapp.settings import LOOPBACK, SettingError, Settings, read
from webapp.web.clock import system
from webapp.web.forms import tidy

MEGABYTE = 1024 * 1024
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
    try:
        sys.exit(found.run(found))
    except SettingError as error:
        sys.exit(str(error))


def serve(_found: argparse.Namespace) -> int:
    settings = read()
    settings.instance.mkdir(parents=True, exist_ok=True)
    migrate.upgrade(settings.database)
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
    name = tidy(found.name)
    if not name:
        print("The account needs a name.", file=sys.stderr)
        return 1
    if len(tidy(password)) < SHORTEST_PASSWORD:
        print(f"At least {SHORTEST_PASSWORD} characters, please.", file=sys.stderr)
        return 1
    settings = read()
    settings.instance.mkdir(parents=True, exist_ok=True)
    migrate.upgrade(settings.database)
    engine = make_engine(settings.database)
    with Session(engine, execution_options={"write": True}) as db:
        person = people.person_named(db, name)
        if person is None:
            people.add_person(db, name, password, system())
            said = "added"
        else:
            people.set_password(person, password)
            people.end_sign_ins(db, person.id, system())
            said = "has a new password"
        db.commit()
    engine.dispose()
    print(f"{name}: {said}")
    return 0
