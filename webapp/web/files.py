"""Where pictures lie. A file that was put is on the disk for good before `put` returns.

A second kind of store needs the same calls; `path` may answer none where there is no local file.
"""

import errno
import hashlib
import os
import re
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import BinaryIO, Protocol

from flask import current_app

from webapp.db.disk import sync_file, sync_folder

KEY = re.compile(r"[0-9a-f]{64}\.[a-z]+(\.[a-z]+)?(\.[a-z0-9_]+\.part)?")  # .part: left by a crash
CHUNK = 1 << 20


class StoreError(OSError):
    """A file that could not be stored; the text says why."""


class Store(Protocol):
    def put(self, key: str, source: BinaryIO) -> None:
        """Keep the content for good under this name. What is there already stays as it is."""

    def open(self, key: str) -> BinaryIO:
        """Return the file, or raise FileNotFoundError."""

    def exists(self, key: str) -> bool:
        """Return whether there is a file of this name."""

    def delete(self, key: str) -> None:
        """Remove the file; it need not exist."""

    def path(self, key: str) -> Path | None:
        """Return where the file lies on this computer; none when it lies elsewhere."""

    def kept(self) -> Iterator[tuple[str, datetime]]:
        """Return the name of each file and when it was last put."""


def name_of(source: BinaryIO) -> str:
    """Return the hash of a content, which is what its files are named by; the source is rewound."""
    found = hashlib.sha256()
    source.seek(0)
    while chunk := source.read(CHUNK):
        found.update(chunk)
    source.seek(0)
    return found.hexdigest()


class Folder:
    """A store in a folder of this computer."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def put(self, key: str, source: BinaryIO) -> None:
        path = self._place(key)
        try:
            self._make(path.parent)
            if path.exists():
                os.utime(path)  # sweeping goes by age: a file that is wanted again is young again
            else:
                _write(path, source)
            sync_folder(path.parent)
        except OSError as error:
            full = error.errno in {errno.ENOSPC, errno.EDQUOT}
            why = "the disk of the server is full" if full else f"the server could not write it ({error.strerror})"
            raise StoreError(f"This photo was not stored: {why}.") from error

    def open(self, key: str) -> BinaryIO:
        return self._place(key).open("rb")

    def exists(self, key: str) -> bool:
        return self._place(key).is_file()

    def delete(self, key: str) -> None:
        self._place(key).unlink(missing_ok=True)

    def path(self, key: str) -> Path | None:
        return self._place(key)

    def kept(self) -> Iterator[tuple[str, datetime]]:
        for path in sorted(self.root.glob("??/*")):
            if KEY.fullmatch(path.name):
                yield path.name, datetime.fromtimestamp(path.stat().st_mtime, UTC)

    def _place(self, key: str) -> Path:
        if not KEY.fullmatch(key):
            raise ValueError(f"not a name of a stored file: {key!r}")
        return self.root / key[:2] / key

    def _make(self, folder: Path) -> None:
        if not folder.is_dir():
            folder.mkdir(parents=True, exist_ok=True)
            sync_folder(folder.parent)
            sync_folder(folder.parent.parent)


def _write(path: Path, source: BinaryIO) -> None:
    """Write beside the place, sync, then rename: there is never half a file under the name."""
    with NamedTemporaryFile(dir=path.parent, prefix=f"{path.name}.", suffix=".part", delete=False) as file:
        part = Path(file.name)
        try:
            shutil.copyfileobj(source, file, CHUNK)
            file.flush()
            sync_file(file.fileno())
            file.close()
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise


def store() -> Store:
    """Return the store of this app."""
    return Folder(current_app.config["SETTINGS"].photos)
