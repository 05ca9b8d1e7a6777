"""A migration in a process of its own, to be killed: `python -m tests.faults.migrating URL SCRIPTS`."""

import sys
from pathlib import Path

from webapp.db import migrate


def main(url: str, scripts: str) -> None:
    print("ready", flush=True)  # the long imports are over: what is killed now is the migration
    migrate.upgrade(url, Path(scripts))
    print("done", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
