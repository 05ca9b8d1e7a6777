"""benchtide plan: plan a shop document."""

import argparse
import sys
from pathlib import Path

from webapp.commands import Commands
from webapp.planning.document import answer


def add(commands: Commands) -> None:
    parser = commands.add_parser("plan", help="plan a shop document and print the plan as JSON")
    parser.add_argument("document", type=Path)
    parser.add_argument(
        "--latest",
        action="store_true",
        help="lay builds that have a date backwards from it too, each step as late as it can lie",
    )
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    try:
        text = found.document.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        print(f"{found.document}: {error}", file=sys.stderr)
        return 2
    status, out, err = answer(text, latest=found.latest)
    sys.stdout.write(out)
    sys.stderr.write(err)
    return status
