"""A backup while everybody works: restored elsewhere it has all that was acknowledged before it began."""

import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from tests.faults.checks import look
from tests.faults.figures import Figures
from tests.faults.ledger import Acknowledged
from tests.faults.servers import ROOT, Benchtide


@dataclass
class Taken:
    """A backup that was made, and what had been acknowledged when it began."""

    wanted: Acknowledged
    seconds: float
    size: int


class FailedError(RuntimeError):
    """A command that did not do its work; the text is what it said."""


def command(server: Benchtide, *arguments: str) -> str:
    """Run a command of Benchtide on a server's instance, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "webapp", *arguments], cwd=ROOT, env=server.environ, capture_output=True, text=True
    )
    if done.returncode:
        raise FailedError(done.stdout + done.stderr)
    return done.stdout


def take(server: Benchtide, wanted: Acknowledged, archive: Path) -> Taken:
    began = time.monotonic()
    command(server, "backup", str(archive))
    return Taken(wanted, time.monotonic() - began, archive.stat().st_size)


def restored(elsewhere: Benchtide, archive: Path, taken: Taken, name: str) -> Figures:
    """Restore it into an empty instance, and look there for all that it must hold."""
    command(elsewhere, "restore", "--without-backup", str(archive))
    found = look(elsewhere.url, elsewhere.settings.photos, taken.wanted)
    more = f"{taken.size / 1e6:.1f} MB in {taken.seconds:.1f} s while all worked"
    return Figures(
        f"backup during that load, restored elsewhere, {name}",
        1,
        len(taken.wanted),
        len(found),
        tuple(found.wrong),
        0.0,
        more,
    )
