"""A restore that is killed, as by a power cut: run with an archive, a database, photos, a folder to work in, a point.

The point is `put 2` (before the second file is put into the store), `write 9` (before the ninth statement of the
transaction) or `end` (before the transaction is made good).
"""

import os
import signal
import sys
from pathlib import Path
from typing import Any, BinaryIO

from sqlalchemy import Engine, event

from tests.backups.making import NOW
from webapp.backups import restoring
from webapp.db.engine import make_engine
from webapp.web.files import Folder


def die() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


class Killing(Folder):
    """A store that takes some files and no more."""

    left = 0

    def put(self, key: str, source: BinaryIO) -> None:
        self.left -= 1
        if self.left == 0:
            die()
        super().put(key, source)


def kill_at_write(engine: Engine, number: int) -> None:
    left = [number]

    @event.listens_for(engine, "before_cursor_execute")
    def count(_connection: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        if statement.split()[0] in {"DELETE", "INSERT", "UPDATE"}:
            left[0] -= 1
            if left[0] == 0:
                die()


def main(archive: str, url: str, photos: str, folder: str, kind: str, number: str) -> None:
    engine, store = make_engine(url), Killing(Path(photos))
    if kind == "put":
        store.left = int(number)
    if kind == "write":
        kill_at_write(engine, int(number))
    if kind == "end":
        event.listen(engine, "commit", lambda _connection: die())
    restoring.restore(Path(archive), engine, store, NOW, folder=Path(folder))


if __name__ == "__main__":
    main(*sys.argv[1:])
