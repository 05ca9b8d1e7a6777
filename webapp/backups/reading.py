"""Opening an archive that anybody may have made. Nothing in it is believed before it was read and counted.

Everything in it is stored as it is, so nothing can unpack to more than the file holds.
"""

import hashlib
import io
import stat
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO, Any
from zipfile import ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from webapp.backups.layout import (
    CHUNK,
    LONGEST_DIRECTORY,
    LONGEST_LINE,
    LONGEST_MANIFEST,
    MANIFEST,
    MOST_FILES,
    NAME,
    ArchiveError,
    Manifest,
    Part,
    read_manifest,
)

ENTRY = b"PK\x01\x02"
ENCRYPTED = 0x1
TOO_MANY = f"The archive names more than {MOST_FILES:,} files."
UNREADABLE = (BadZipFile, EOFError, NotImplementedError, OverflowError, RuntimeError, ValueError, struct.error)


class Archive:
    """An archive whose names are those of the format, each once, each a plain file stored as it is."""

    def __init__(self, file: IO[bytes]) -> None:
        with _refusing():
            self._zip = ZipFile(_Guarded(file))
        found = self._zip.infolist()
        for one in found:
            _look_at(one)
        self.names = frozenset(one.filename for one in found)
        if len(self.names) != len(found):
            raise ArchiveError("The archive names a file twice.")
        if sum(one.compress_size for one in found) > file.seek(0, io.SEEK_END):
            raise ArchiveError("The archive claims to hold more than it does.")

    def manifest(self) -> Manifest:
        if MANIFEST not in self.names:
            raise ArchiveError("This is no backup of Benchtide, or only a part of one.")
        with self.open(MANIFEST) as file:
            content = file.read(LONGEST_MANIFEST + 1)
        if len(content) > LONGEST_MANIFEST:
            raise ArchiveError(f"{MANIFEST} is too long.")
        return read_manifest(content)

    @contextmanager
    def open(self, name: str) -> Iterator[IO[bytes]]:
        if name not in self.names:
            raise ArchiveError(f"{name} is missing in the archive.")
        with _refusing(), self._zip.open(name) as file:
            yield file

    def lines(self, name: str, part: Part) -> Iterator[bytes]:
        """Yield the lines of a list; raise ArchiveError at its end where it is not the one the manifest means."""
        count = 0
        with self.open(name) as file:
            counted = Counted(file)
            buffered = io.BufferedReader(counted, CHUNK)
            while line := buffered.readline(LONGEST_LINE + 1):
                if len(line) > LONGEST_LINE:
                    raise ArchiveError(f"A line of {name} is too long.")
                count += 1
                yield line
        if (count, counted.size, counted.sha256) != (part.count, part.size, part.sha256):
            raise ArchiveError(f"{name} is not as it was when the backup was made.")


class Counted(io.RawIOBase):
    """A file that is hashed and counted while it is read."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file
        self._hash = hashlib.sha256()
        self.size = 0

    @property
    def sha256(self) -> str:
        return self._hash.hexdigest()

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        content = self._file.read(len(buffer))
        buffer[: len(content)] = content
        self._hash.update(content)
        self.size += len(content)
        return len(content)


class _Guarded(io.RawIOBase):
    """The file as zipfile may read it: it would take a list of any number of names into memory."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file

    def readable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True

    def tell(self) -> int:
        return self._file.tell()

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        if whence == io.SEEK_SET and offset < 0:
            raise BadZipFile("it points before its beginning")
        return self._file.seek(offset, whence)

    def read(self, size: int | None = -1) -> bytes:
        here = self._file.tell()
        left = self._file.seek(0, io.SEEK_END) - here
        self._file.seek(here)
        wanted = left if size is None or size < 0 else min(size, left)  # the room for it is taken before it is read
        if wanted > LONGEST_DIRECTORY:
            raise ArchiveError(TOO_MANY)
        content = self._file.read(wanted)
        if len(content) > CHUNK and content.count(ENTRY) > MOST_FILES:
            raise ArchiveError(TOO_MANY)
        return content


def _look_at(one: ZipInfo) -> None:
    shown = repr(one.orig_filename[:80])
    if not NAME.fullmatch(one.orig_filename):
        raise ArchiveError(f"The archive holds {shown}, which does not belong into a backup.")
    if one.flag_bits & ENCRYPTED:
        raise ArchiveError(f"{shown} is encrypted; a backup never is.")
    if stat.S_IFMT(one.external_attr >> 16) not in (0, stat.S_IFREG):
        raise ArchiveError(f"{shown} is no plain file.")
    if one.compress_type != ZIP_STORED or one.file_size != one.compress_size:
        raise ArchiveError(f"{shown} is compressed; in a backup everything is stored as it is.")


@contextmanager
def _refusing() -> Iterator[None]:
    try:
        yield
    except ArchiveError:
        raise
    except UNREADABLE as error:
        raise ArchiveError(f"This is no backup of Benchtide, or a damaged one ({error}).") from None
