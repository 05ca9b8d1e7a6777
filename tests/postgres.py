"""A PostgreSQL server of the tests own, in a folder that goes away. It refuses root, so root drops to postgres."""

import os
import pwd
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp

QUICK = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"


@dataclass(frozen=True)
class Server:
    url: str


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


@contextmanager
def start() -> Iterator[Server]:
    binaries = _binaries()
    assert binaries is not None
    folder = Path(mkdtemp(prefix="pg", dir="/tmp"))  # the path of a socket must be short
    data = str(folder / "data")
    options = f"-c listen_addresses='' -c unix_socket_directories={folder} {QUICK}"
    initdb, pg_ctl = str(binaries / "initdb"), str(binaries / "pg_ctl")
    try:
        _run(folder, initdb, "-D", data, "-A", "trust", "-U", "app", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8")
        _run(folder, pg_ctl, "-D", data, "-w", "-s", "-l", str(folder / "log"), "-o", options, "start")
        yield Server(f"postgresql+psycopg://app@/postgres?host={folder}")
    finally:
        _run(folder, pg_ctl, "-D", data, "-m", "immediate", "-s", "stop")
        shutil.rmtree(folder, ignore_errors=True)
