"""Where pictures lie. A file that was put is kept for good before `put` returns.

The folder is the store of one server; webapp/web/bucket.py is the one of servers that share their pictures.
"""

import errno
import hashlib
import os
import re
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from functools import cache
from importlib import import_module
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import BinaryIO, Protocol, cast

from flask import current_app

from webapp.db.disk import sync_file, sync_folder
from webapp.settings import Settings

KEY = re.compile(r"[0-9a-f]{64}\.[a-z]+(\.[a-z]+)?(\.[a-z0-9_]+\.part)?")  # .part: left by a crash
CHUNK = 1 << 20


class StoreError(OSError):
    """A file that could not be stored; the text says why."""


class StoreAwayError(StoreError):
    """A store that does not answer now, and may answer later."""


class Store(Protocol):
    def put(self, key: str, source: BinaryIO) -> None:
        """Keep the content for good under this name. What is there already stays as it is."""

    def open(self, key: str) -> BinaryIO:
        """Return the file, or raise FileNotFoundError."""

    def exists(self, key: str) -> bool:
        """Return whether there is a file of this name."""

    def delete(self, key: str) -> None:
        """Remove the file; it need not exist."""

    def kept(self) -> Iterator[tuple[str, datetime]]:
        """Return the name of each file and when it was last put."""

    def check(self) -> None:
        """Raise StoreError where nothing could be put here."""


def placed(key: str) -> str:
    """Return where a file lies under the root of its store; only names of our own are taken."""
    if not KEY.fullmatch(key):
        raise ValueError(f"not a name of a stored file: {key!r}")
    return f"{key[:2]}/{key}"


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
        path = self.path(key)
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
        return self.path(key).open("rb")

    def exists(self, key: str) -> bool:
        return self.path(key).is_file()

    def delete(self, key: str) -> None:
        self.path(key).unlink(missing_ok=True)

    def kept(self) -> Iterator[tuple[str, datetime]]:
        for path in sorted(self.root.glob("??/*")):
            if KEY.fullmatch(path.name):
                yield path.name, datetime.fromtimestamp(path.stat().st_mtime, UTC)

    def check(self) -> None:
        """It lies in the folder of the instance, which is looked at as a whole."""

    def path(self, key: str) -> Path:
        """Return where a file of this name lies."""
        return self.root / placed(key)

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


@cache
def store_of(settings: Settings) -> Store:
    """Return the store of these settings; it is opened once in a process."""
    if not settings.photo_store:
        return Folder(settings.photos)
    found = import_module("webapp.web.bucket").Bucket(settings)  # what it is made of is an extra
    return cast(Store, found)


def store() -> Store:
    """Return the store of this app."""
    settings = current_app.config["SETTINGS"]
    assert isinstance(settings, Settings)
    return store_of(settings)
