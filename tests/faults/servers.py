"""The real server as a process of its own: started, killed as by a power cut, and started again."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

from webapp.db.instance import database_file
from webapp.settings import Settings

ROOT = Path(__file__).parent.parent.parent
PATIENCE = 60.0  # seconds


class NotStartedError(RuntimeError):
    """A server that did not come up; the text is what it said."""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Benchtide:
    """`benchtide serve` on an instance of its own."""

    command = ("-m", "webapp", "serve")

    def __init__(self, instance: Path, database_url: str = "", **environ: str) -> None:
        self.instance, self.port = instance, free_port()
        self.base = f"http://127.0.0.1:{self.port}"
        self.settings = Settings(instance=instance, database_url=database_url)
        self.log = instance.with_suffix(".log")
        own = {"BENCHTIDE_INSTANCE": str(instance), "BENCHTIDE_PORT": str(self.port), "BENCHTIDE_HOST": "127.0.0.1"}
        others = {name: value for name, value in os.environ.items() if not name.startswith("BENCHTIDE_")}
        self.environ = {**others, **own, "DATABASE_URL": database_url, "PYTHONUNBUFFERED": "1", **environ}
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return self.settings.database

    @property
    def file(self) -> Path | None:
        return database_file(self.url)

    def begin(self) -> None:
        """Start it and wait until it answers; what it says goes to the log beside the instance."""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, *self.command], cwd=ROOT, env=self.environ, stdout=log, stderr=log
            )
        for _ in range(int(PATIENCE / 0.05)):
            if self.process.poll() is not None:
                break
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            time.sleep(0.05)
        raise NotStartedError(self.said())

    def said(self) -> str:
        return self.log.read_text(errors="replace") if self.log.exists() else ""

    def kill(self) -> None:
        """End it at once: no handler runs, nothing is written any more."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        self._end(signal.SIGTERM)

    def _end(self, how: signal.Signals) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(how)
            self.process.wait()
        self.process = None

    def __enter__(self) -> "Benchtide":
        self.begin()
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()
