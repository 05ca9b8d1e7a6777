"""benchtide account: the accounts of this server."""

import argparse
import getpass
import sys

from sqlalchemy.orm import Session

from webapp.commands import Commands
from webapp.db.engine import make_engine
from webapp.db.start import bring_up
from webapp.people import actions as people
from webapp.settings import read
from webapp.web.clock import system
from webapp.web.text import tidy


def add(commands: Commands) -> None:
    verbs = commands.add_parser("account", help="accounts of this server").add_subparsers(dest="verb", required=True)
    parser = verbs.add_parser("add", help="add an account with a password, or set the password of one")
    parser.add_argument("name")
    parser.set_defaults(run=add_account)


def add_account(found: argparse.Namespace) -> int:
    password = getpass.getpass("Password: ") if sys.stdin.isatty() else sys.stdin.readline().rstrip("\n")
    name = tidy(found.name)
    fault = people.fault_of(name, password)
    if fault:
        print(fault, file=sys.stderr)
        return 1
    settings = read()
    bring_up(settings.database, "account", system())
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
