"""What can go wrong with the disk or the database, said so that a maker knows what to do. Knows no page."""

import errno
import sqlite3
from dataclasses import dataclass

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError

MINUTE = 60
SOON = 5  # seconds


class StartError(RuntimeError):
    """Benchtide cannot start; the text is one plain sentence for whoever started it."""


@dataclass(frozen=True)
class Trouble:
    """What is wrong: the status of the answer, a heading, what happened, what to do, and when to try again."""

    status: int
    title: str
    happened: str
    way_out: str
    retry: int  # seconds
    saved: str = "Nothing of this was saved."


FULL = Trouble(
    507,
    "The disk is full",
    "The disk of the server is full.",
    "Make room on it, then try again. What was saved before is safe.",
    MINUTE,
)
READ_ONLY = Trouble(
    503,
    "The disk cannot be written to",
    "The server can only read its disk or its database.",
    "Look after the disk and the rights of the instance folder, then start the server again.",
    MINUTE,
)
BUSY = Trouble(
    503,
    "The database is busy",
    "Something else kept the database busy for too long.",
    "Wait a moment, then try again.",
    SOON,
)
GONE = Trouble(
    503,
    "The database does not answer",
    "The database server does not answer.",
    "Wait a moment, then try again. If it stays so, look whether the database server runs.",
    SOON,
    "Whether this was saved is not known; sent once more it is saved once.",
)
DAMAGED = Trouble(
    503,
    "The database cannot be read",
    "The database cannot be read, or the disk fails.",
    "Stop the server, keep a copy of the instance folder, and restore the last backup.",
    MINUTE,
    "It is not known what of this was saved.",
)
CLASH = Trouble(
    409,
    "At the same moment",
    "Somebody saved something at the same moment that does not go together with this.",
    "",
    SOON,
)

SQLITE = {
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_PERM: READ_ONLY,
    sqlite3.SQLITE_CANTOPEN: READ_ONLY,
    sqlite3.SQLITE_BUSY: BUSY,
    sqlite3.SQLITE_LOCKED: BUSY,
    sqlite3.SQLITE_PROTOCOL: BUSY,
    sqlite3.SQLITE_IOERR: DAMAGED,
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: DAMAGED,
}
# PostgreSQL, appendix A "Error Codes": a code, or the class that its first two letters name
POSTGRES = {
    "08": GONE,  # connection exception
    "57P": GONE,  # shut down, crashed, starting up
    "53300": BUSY,  # too many connections
    "53100": FULL,  # disk full
    "40": CLASH,  # a deadlock, or two that cannot both be right
    "55P03": BUSY,  # a lock was not to be had in time
    "57014": BUSY,  # took too long
    "25006": READ_ONLY,  # a standby, or told to only read
    "58": DAMAGED,  # system error: a file of the server
    "XX001": DAMAGED,
    "XX002": DAMAGED,
}
OF_THE_DISK = {
    errno.ENOSPC: FULL,
    errno.EDQUOT: FULL,
    errno.EFBIG: FULL,
    errno.EROFS: READ_ONLY,
    errno.EACCES: READ_ONLY,
    errno.EPERM: READ_ONLY,
    errno.EIO: DAMAGED,
}


def trouble_of(error: BaseException) -> Trouble | None:
    """Return what an error of the database or the disk means; none where it is a fault of our own."""
    if isinstance(error, PoolTimeoutError):
        return BUSY
    if isinstance(error, DBAPIError):
        return _of_database(error)
    if isinstance(error, sqlite3.Error):
        return _of_sqlite(error)
    if isinstance(error, OSError):
        return OF_THE_DISK.get(error.errno or 0)
    return None


def _of_database(error: DBAPIError) -> Trouble | None:
    if isinstance(error.orig, sqlite3.Error):
        return _of_sqlite(error.orig)
    code = getattr(error.orig, "sqlstate", None) or ""
    found = next((trouble for start, trouble in POSTGRES.items() if code.startswith(start)), None)
    if found is None and (
        error.connection_invalidated or (not code and type(error.orig).__name__ == "OperationalError")
    ):
        return GONE  # the connection broke, or there was none: no server to give a code
    return found


def _of_sqlite(error: sqlite3.Error) -> Trouble | None:
    code = getattr(error, "sqlite_errorcode", None)
    return None if code is None else SQLITE.get(code & 0xFF)  # the first byte is the kind, the rest the particulars
