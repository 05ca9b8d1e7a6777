"""benchtide: reads the command line and runs one of the commands."""

import argparse
import sys

from webapp.commands import account, backup, plan, restore, serve, sweep
from webapp.db.trouble import StartError
from webapp.settings import SettingError

COMMANDS = (serve, plan, account, backup, restore, sweep)


def main(arguments: list[str] | None = None) -> None:
    """Run a command and leave with its exit status."""
    parser = argparse.ArgumentParser(prog="benchtide", description="A project journal for furniture makers.")
    commands = parser.add_subparsers(dest="command", required=True)
    for one in COMMANDS:
        one.add(commands)
    found = parser.parse_args(arguments)
    try:
        sys.exit(found.run(found))
    except (SettingError, StartError) as error:
        sys.exit(str(error))
