"""Thousands of hostile requests to a real server: no broken page, no file outside the instance, memory flat."""

import http.client
import socket
from collections.abc import Iterator
from pathlib import Path
from random import Random

from tests.faults.figures import Figures
from tests.faults.servers import ROOT, Benchtide
from tests.hostile.attempts import Attempt
from tests.hostile.inside import Cookies
from tests.hostile.routes import nowhere, of_routes
from tests.hostile.rows import wrong_rows
from tests.hostile.run import Answer, Run
from tests.hostile.sweep import begin, forms_to_try, look_again
from webapp.app import create_app
from webapp.web.clock import system

PATIENCE = 60.0
MOST_GROWTH = 60  # MB: what a first large upload and full caches may take for good


class Outside:
    """Speaks to a server as a browser would not: whatever an attempt says goes over the wire as it is."""

    def __init__(self, port: int) -> None:
        self.port, self.cookies = port, Cookies()

    def send(self, attempt: Attempt) -> Answer:
        brings_its_own = any(name == "Cookie" for name, _ in attempt.headers)
        try:
            answer, cookies = self._exchange(attempt, () if brings_its_own else (("Cookie", self.cookies.line),))
        except (OSError, http.client.HTTPException) as error:
            return Answer(0, broke=f"no answer: {error!r}")
        if not brings_its_own:
            self.cookies.take(cookies)
        return answer

    def _exchange(self, attempt: Attempt, cookies: tuple[tuple[str, str], ...]) -> tuple[Answer, list[str]]:
        own = (("Host", f"127.0.0.1:{self.port}"), ("Content-Length", str(len(attempt.body))), ("Connection", "close"))
        kind = (("Content-Type", attempt.kind),) if attempt.kind else ()
        named = {name for name, _ in attempt.headers}
        lines = [pair for pair in (*own, *kind, *cookies) if pair[0] not in named and pair[1]] + list(attempt.headers)
        head = f"{attempt.method} {attempt.address} HTTP/1.1\r\n" + "".join(f"{n}: {v}\r\n" for n, v in lines) + "\r\n"
        with socket.create_connection(("127.0.0.1", self.port), PATIENCE) as wire:
            wire.sendall(head.encode("latin-1", "replace"))
            wire.sendall(attempt.body)
            found = http.client.HTTPResponse(wire, method=attempt.method)
            found.begin()
            text = found.read().decode("utf-8", "replace")
            headers = tuple(found.getheaders())
            return Answer(found.status, headers, text), [value for name, value in headers if name == "Set-Cookie"]


def run(folder: Path, seed: int, each: int, database_url: str = "") -> Figures:
    """Return what became of it all; `each` so many wrong values for each field of each form."""
    server = Benchtide(folder / "instance", database_url)
    before = set(_outside(folder))
    with server:
        found = Run(Outside(server.port))
        begin(found)
        app = create_app(server.settings)
        forms = forms_to_try(app, found)
        warm = _megabytes(server)
        found.try_forms(forms, str(seed), each, each)
        for attempt in [*of_routes(app, Random(seed), each), *nowhere()]:
            found.send(attempt)
        again = look_again(app, found)
        grown = _megabytes(server) - warm
    total = sum(found.statuses.values()) + sum(again.statuses.values())
    wrong = [*found.findings, *again.findings, *wrong_rows(app, system())]
    wrong += [f"{path} is outside the instance" for path in sorted(set(_outside(folder)) - before)]
    if grown > MOST_GROWTH:
        wrong.append(f"the server grew by {grown:.0f} MB")
    by_status = ", ".join(f"{status}: {count}" for status, count in sorted(found.statuses.items()))
    what = "hostile requests, PostgreSQL" if database_url else "hostile requests, SQLite"
    return Figures(
        what, 1, total, total, tuple(wrong), 0, f"{by_status}; server grew by {grown:.0f} MB from {warm:.0f}"
    )


def _outside(folder: Path) -> Iterator[Path]:
    """Yield every file that a path too clever could have written beside the instance."""
    for root in (folder, ROOT / "webapp", ROOT / "templates", ROOT / "static", ROOT / "migrations"):
        for path in root.rglob("*"):
            inside = folder / "instance" in path.parents or "__pycache__" in path.parts or path.suffix == ".log"
            if path.is_file() and not inside:
                yield path


def _megabytes(server: Benchtide) -> float:
    assert server.process is not None
    lines = Path(f"/proc/{server.process.pid}/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))
