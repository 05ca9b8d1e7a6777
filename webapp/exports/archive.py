"""A file together with its pictures: a zip archive, written and read without ever holding more than one picture.

benchtide.json        the file
pictures/HASH.webp    each picture as it is served, named by its own SHA-256
"""

import hashlib
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from io import SEEK_SET, RawIOBase
from typing import BinaryIO

from webapp.exports.reading import LONGEST, MEGABYTE, RefusedError, refuse
from webapp.exports.taking_out import File
from webapp.exports.text import written

NAME = "benchtide.json"
A_BACKUP = "manifest.json"
EPOCH = (1980, 1, 1, 0, 0, 0)  # no time of its own: the same shop gives the same archive
LONGEST_PICTURE = 8 * MEGABYTE
LONGEST_DIRECTORY = 8 * MEGABYTE  # some 65,000 pictures
TAKEN = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
MAGIC = b"PK"
BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, NotImplementedError, ValueError)


class _Pipe(RawIOBase):
    """What a zip archive is written into, and taken out of again piece by piece."""

    def __init__(self) -> None:
        self._pieces: list[bytes] = []

    def writable(self) -> bool:
        return True

    def write(self, piece: object) -> int:
        content = bytes(piece)  # type: ignore[call-overload]
        self._pieces.append(content)
        return len(content)

    def taken(self) -> bytes:
        found, self._pieces = b"".join(self._pieces), []
        return found


def zipped(file: File, pictures: Mapping[str, str], opened: Callable[[str], BinaryIO]) -> Iterator[bytes]:
    """Yield the archive of a file. `pictures` are names of the store by hash; a file that is gone is left out."""
    pipe = _Pipe()
    with zipfile.ZipFile(pipe, "w") as archive:
        with archive.open(_named(NAME, zipfile.ZIP_DEFLATED), "w", force_zip64=True) as text:
            for piece in written(file):
                text.write(piece.encode())
                yield pipe.taken()
        for sha256, name in sorted(pictures.items()):
            try:
                with opened(name) as picture:
                    archive.writestr(_named(_place(sha256), zipfile.ZIP_STORED), picture.read())
            except FileNotFoundError:
                continue
            yield pipe.taken()
    yield pipe.taken()


def _named(name: str, how: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, EPOCH)
    info.compress_type = how
    info.external_attr = 0o644 << 16
    return info


def _place(sha256: str) -> str:
    return f"pictures/{sha256}.webp"


class _Bounded(RawIOBase):
    """The sent file as it may be read: an archive that says it holds millions of names would fill the memory."""

    def __init__(self, source: BinaryIO) -> None:
        self._source = source

    def readable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True

    def tell(self) -> int:
        return self._source.tell()

    def seek(self, offset: int, whence: int = SEEK_SET) -> int:
        return self._source.seek(offset, whence)

    def read(self, size: int | None = -1) -> bytes:
        most = LONGEST_DIRECTORY + 1
        content = self._source.read(most if size is None or size < 0 else min(size, most))
        if len(content) == most:
            raise zipfile.BadZipFile
        return content


class Parcel:
    """A file as somebody sends it: bare, or as an archive with pictures. Nothing is unpacked to a name of theirs."""

    def __init__(self, source: BinaryIO) -> None:
        """Raises RefusedError for an archive that cannot be read."""
        source.seek(0)
        self._source, self._archive = source, None
        self._names: set[str] = set()
        if source.read(len(MAGIC)) == MAGIC:
            self._archive = self._opened(source)

    def _opened(self, source: BinaryIO) -> zipfile.ZipFile:
        try:
            archive = zipfile.ZipFile(_Bounded(source))
        except BROKEN:
            raise refuse((), "this archive is broken or was cut off on the way. Take it out once more.") from None
        names = archive.namelist()
        if A_BACKUP in names:
            raise refuse((), "this is a backup of a whole server. It is brought back by: benchtide restore FILE.")
        if names.count(NAME) != 1:
            raise refuse((), f"this archive does not hold one {NAME}, as those of Benchtide do.")
        self._names = set(names)
        return archive

    def text(self) -> bytes:
        """Return the file itself. Raises RefusedError."""
        if self._archive is not None:
            return self._read(NAME, LONGEST)
        self._source.seek(0)
        return self._source.read(LONGEST + 1)

    def has(self, sha256: str) -> bool:
        return _place(sha256) in self._names

    def picture(self, sha256: str) -> bytes:
        """Return a picture. Raises RefusedError where its content is not what its name says."""
        name = _place(sha256)
        content = self._read(name, LONGEST_PICTURE)
        if hashlib.sha256(content).hexdigest() != sha256:
            raise RefusedError(f"{name}: this is not the picture its name says. Take the file out once more.")
        return content

    def _read(self, name: str, most: int) -> bytes:
        assert self._archive is not None
        info = self._archive.getinfo(name)
        if info.compress_type not in TAKEN:
            raise RefusedError(f"{name}: this is packed in a way that Benchtide does not use.")
        try:
            with self._archive.open(info) as file:
                content = file.read(most + 1)
        except BROKEN:
            says = "this is broken or was cut off on the way. Take the file out once more."
            raise RefusedError(f"{name}: {says}") from None
        if len(content) > most:
            raise RefusedError(f"{name}: this is longer than {most // MEGABYTE} MB.")
        return content
