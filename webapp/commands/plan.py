"""benchtide plan: plan a shop document."""

import argparse
import json
import sys
from pathlib import Path

from webapp.commands import Commands
from webapp.planning.document import REFUSED, SCHEDULES, answer
from webapp.planning.schema import SCHEMA

MOST = 10_000_000  # orders tried


def add(commands: Commands) -> None:
    parser = commands.add_parser("plan", help="plan a shop document and print the plan as JSON")
    parser.add_argument("document", type=Path, nargs="?", help="the shop document, a JSON file")
    parser.add_argument(
        "--shown",
        type=Path,
        metavar="PLAN",
        help="the plan last shown, as it was printed: its order stays unless another is clearly better",
    )
    parser.add_argument(
        "--schedules",
        type=_count,
        default=SCHEDULES,
        metavar="N",
        help=f"how many orders to try ({SCHEDULES}); 1 takes the one shown, or the document's",
    )
    parser.add_argument(
        "--latest",
        action="store_true",
        help="lay builds that have a date backwards from it too, each step as late as it can lie",
    )
    parser.add_argument("--table", action="store_true", help="print the plan for people, in columns")
    parser.add_argument("--schema", action="store_true", help="print the JSON Schema of the shop document and stop")
    parser.set_defaults(run=run)


def run(found: argparse.Namespace) -> int:
    if found.schema:
        print(json.dumps(SCHEMA, indent=1))
        return 0
    if found.document is None:
        print("benchtide plan: give a shop document, or --schema", file=sys.stderr)
        return REFUSED
    text, shown = _read(found.document), None if found.shown is None else _read(found.shown)
    if text is None or (found.shown is not None and shown is None):
        return REFUSED
    status, out, err = answer(text, found.schedules, shown=shown, latest=found.latest, as_table=found.table)
    _print(out)
    sys.stderr.write(err)
    return status


def _read(path: Path) -> str | None:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        print(f"{path}: {error}", file=sys.stderr)
        return None


def _print(text: str) -> None:
    """Write what may hold letters that the terminal does not know."""
    encoding = sys.stdout.encoding or "utf-8"
    sys.stdout.write(text.encode(encoding, "backslashreplace").decode(encoding))


def _count(text: str) -> int:
    count = int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 0
    if not 1 <= count <= MOST:
        raise argparse.ArgumentTypeError(f'"{text}" is not a whole number from 1 to {MOST}')
    return count
