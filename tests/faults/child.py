"""Work in a process of its own, to be killed at an instant: `python -m tests.faults.child migrate URL SCRIPTS`."""

import os
import subprocess
import sys
import time
from pathlib import Path

from tests.faults.servers import ROOT
from webapp import cli
from webapp.db import migrate


def interrupted(what: str, first: str, second: str, after: float, environ: dict[str, str] | None = None) -> None:
    """Let a child work, and kill it so many seconds after it began."""
    command = [sys.executable, "-m", "tests.faults.child", what, first, second]
    environ = environ or dict(os.environ)
    pipe = subprocess.PIPE
    with subprocess.Popen(command, cwd=ROOT, env=environ, stdout=pipe, stderr=pipe, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        time.sleep(after)
        process.kill()
        _, said = process.communicate()
        if process.returncode > 0:
            raise RuntimeError(said)


def main(what: str, *arguments: str) -> None:
    print("ready", flush=True)  # the long imports are over: what is killed now is the work
    if what == "migrate":
        migrate.upgrade(arguments[0], Path(arguments[1]))
    else:
        cli.main([what, *arguments])


if __name__ == "__main__":
    main(*sys.argv[1:])
