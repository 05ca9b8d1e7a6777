"""A store that speaks S3, of the tests own: a real server on this computer, which keeps everything in memory."""

import os
import re
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from pathlib import Path

NAME = "benchtide"
LISTENS = re.compile(r"Running on (http://127\.0\.0\.1:\d+)")
KEY = (("AWS_ACCESS_KEY_ID", "the shop"), ("AWS_SECRET_ACCESS_KEY", "planed and true"))


@dataclass(frozen=True)
class Server:
    url: str
    places = count(1)

    @property
    def aws(self) -> tuple[tuple[str, str], ...]:
        return (*KEY, ("AWS_ENDPOINT_URL", self.url))

    def place(self) -> str:
        """A corner of the bucket that nobody has used."""
        return f"s3://{NAME}/{next(self.places)}"

    def trust(self, *, anybody: bool) -> None:
        """Let in whoever comes, as it does from the start, or nobody."""
        self._send("moto-api/reset-auth", "POST", b"inf" if anybody else b"0")

    def make(self, bucket: str) -> None:
        self._send(bucket, "PUT")

    def _send(self, path: str, method: str, data: bytes | None = None) -> None:
        headers = {"Content-Type": "text/plain"}
        request = urllib.request.Request(f"{self.url}/{path}", data, headers, method=method)
        urllib.request.urlopen(request, timeout=10).close()


@contextmanager
def start(folder: Path) -> Iterator[Server]:
    said = folder / "bucket.log"
    program = "from moto.server import main; main(['-H', '127.0.0.1', '-p', '0'])"
    environ = {**os.environ, "AWS_ACCESS_KEY_ID": "", "PYTHONWARNINGS": "ignore"}
    with (
        said.open("wb") as log,
        subprocess.Popen([sys.executable, "-c", program], env=environ, stdout=log, stderr=log) as process,
    ):
        try:
            server = Server(_address(said, process))
            server.make(NAME)
            yield server
        finally:
            process.terminate()


def _address(said: Path, process: subprocess.Popen[bytes]) -> str:
    for _ in range(600):
        found = LISTENS.search(said.read_text(encoding="utf-8"))
        if found:
            return found[1]
        if process.poll() is not None:
            break
        time.sleep(0.05)
    raise RuntimeError(f"no store came up:\n{said.read_text(encoding='utf-8')}")
