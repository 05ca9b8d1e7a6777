"""A PostgreSQL server of the tests own, in a folder that goes away. It refuses root, so root drops to postgres."""

import os
import pwd
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import mkdtemp

QUICK = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"


@dataclass(frozen=True)
class Server:
    url: str
    folder: Path
    options: str = field(repr=False)

    def stop(self) -> None:
        """Let it die at once, as by a power cut: nothing is put in order, and it must recover when it starts again."""
        _control(self.folder, "-m", "immediate", "stop")

    def begin(self) -> None:
        _control(self.folder, "-w", "-l", str(self.folder / "log"), "-o", self.options, "start")


def why_not() -> str:
    """Return why no server can be started here, or nothing."""
    return "" if _binaries() else "PostgreSQL is not installed: apt install postgresql"


def _binaries() -> Path | None:
    found = [Path(name).resolve() for name in (shutil.which("initdb"),) if name]
    found += sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)
    return found[0].parent if found else None


def _run(folder: Path, *command: str) -> None:
    user = {}
    if os.geteuid() == 0:
        entry = pwd.getpwnam("postgres")
        os.chown(folder, entry.pw_uid, entry.pw_gid)
        user = {"user": entry.pw_uid, "group": entry.pw_gid, "extra_groups": []}
    subprocess.run(command, check=True, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, **user)


def _control(folder: Path, *arguments: str) -> None:
    binaries = _binaries()
    assert binaries is not None
    _run(folder, str(binaries / "pg_ctl"), "-D", str(folder / "data"), "-s", *arguments)


@contextmanager
def start(*, durable: bool = False) -> Iterator[Server]:
    """A server while the block runs; durable, it keeps what it acknowledged, as one that is not for tests does."""
    binaries = _binaries()
    assert binaries is not None
    folder = Path(mkdtemp(prefix="pg", dir="/tmp"))  # the path of a socket must be short
    options = f"-c listen_addresses='' -c unix_socket_directories={folder} {'' if durable else QUICK}"
    found = Server(f"postgresql+psycopg://app@/postgres?host={folder}", folder, options)
    initdb, data = str(binaries / "initdb"), str(folder / "data")
    try:
        _run(folder, initdb, "-D", data, "-A", "trust", "-U", "app", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8")
        found.begin()
        yield found
    finally:
        if (folder / "data" / "postmaster.pid").exists():
            found.stop()
        shutil.rmtree(folder, ignore_errors=True)
