"""One server at a time on a SQLite file. Who holds it is written beside it; the system lets go when a process dies."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from sqlalchemy import make_url

from webapp.db.trouble import StartError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

PLACE = 1 << 20  # the byte that is locked lies behind the words: on Windows a locked byte cannot be read by others
LONGEST = 200


class InUseError(StartError):
    """Another process holds the instance; the text says which, and what to do."""


def database_file(url: str) -> Path | None:
    """Return the file of a SQLite database; none for a database server, or one in memory."""
    found = make_url(url)
    if found.get_backend_name() != "sqlite" or not found.database or found.database == ":memory:":
        return None
    return Path(found.database)


@contextmanager
def held(url: str, what: str, now: datetime) -> Iterator[None]:
    """Hold the instance for this process while the block runs; raise InUseError where another has it.

    `what` says what it is held for ("serve", "restore"). On a database server nothing is held: there several servers
    may run at once.
    """
    database = database_file(url)
    if database is None:
        yield
        return
    with _opened(database.with_suffix(".lock")) as file:
        if not _take(file):
            raise InUseError(_says(file))
        try:
            _write(file, f"{os.getpid()}\n{what}\n{now.isoformat(timespec='seconds')}\n")
            yield
        finally:
            _write(file, "")
            _let_go(file)


def _opened(path: Path) -> BinaryIO:
    try:
        return path.open("a+b")
    except OSError as error:
        raise StartError(f"{path.parent} cannot be written to ({error.strerror}).") from error


def _write(file: BinaryIO, text: str) -> None:
    file.truncate(0)
    file.write(text.encode())
    file.flush()


def _says(file: BinaryIO) -> str:
    file.seek(0)
    lines = file.read(LONGEST).decode(errors="replace").splitlines()
    who = ""
    if len(lines) == 3:
        since = datetime.fromisoformat(lines[2]).astimezone()
        when = f"{since:%A}, {since.day} {since:%B %Y, %H:%M}"
        who = f" (benchtide {lines[1]}, process {lines[0]}, since {when})"
    return (
        f"Benchtide already runs on this instance{who}. Stop it first, or set BENCHTIDE_INSTANCE to another folder; "
        "several servers at once need PostgreSQL."
    )


def _take(file: BinaryIO) -> bool:
    try:
        if sys.platform == "win32":
            file.seek(PLACE)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _let_go(file: BinaryIO) -> None:
    if sys.platform == "win32":
        file.seek(PLACE)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
    else:
        fcntl.flock(file, fcntl.LOCK_UN)
