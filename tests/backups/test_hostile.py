"""Archives that somebody made up or a bad disk spoilt: each refused in one sentence, before anything is written.

The cases are our own; where a weakness has a name it stands beside them (path traversal, zip bomb, zip quine).
"""

import random
import stat
import struct
import tracemalloc
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

import pytest
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.backups import making
from tests.backups.altered import ALTERED, ORIGINAL, Parts
from tests.backups.making import NOW, pack, with_list
from webapp.backups import restoring
from webapp.backups.layout import MOST_FILES, VERSION
from webapp.backups.restoring import RestoreError
from webapp.web.files import Folder


class Standing:
    """An instance that nothing may happen to."""

    def __init__(self, folder: Path, engine: Engine) -> None:
        self.folder, self.engine, self.store = folder, engine, Folder(folder / "photos")
        with Session(engine) as db:
            factories.build(db, factories.shop(db, "Mine"), "Hall table")
        self.store.put(f"{'a' * 64}.original", BytesIO(b"mine"))
        making.settle(engine)
        self.before = making.tree(folder)

    def refuses(self, archive: Path, says: str) -> str:
        with pytest.raises(RestoreError, match=says) as refused:
            restoring.restore(archive, self.engine, self.store, NOW, folder=self.folder, keep=self.folder / "keep.zip")
        making.settle(self.engine)
        assert making.tree(self.folder) == self.before
        sentence = str(refused.value)
        assert "nothing was changed" in sentence
        assert "\n" not in sentence
        assert len(sentence) < 400
        return sentence


@pytest.fixture(scope="module")
def standing(sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Standing]:
    folder = tmp_path_factory.mktemp("standing")
    engine = making.empty(sqlite_template, folder / "benchtide.db")
    yield Standing(folder, engine)
    engine.dispose()


@pytest.fixture(scope="module")
def parts(archive: Path) -> Parts:
    return making.members(archive)


@pytest.mark.parametrize("case", list(ALTERED))
def test_what_was_altered_is_refused(standing: Standing, parts: Parts, tmp_path: Path, case: str) -> None:
    change, says = ALTERED[case]
    standing.refuses(pack(tmp_path / "altered.zip", change(parts)), says)


def test_the_parts_packed_again_unaltered_are_taken(parts: Parts, tmp_path: Path, other: Engine) -> None:
    """Else the refusals would prove nothing."""
    assert len(ALTERED) > 50
    path = pack(tmp_path / "same.zip", parts)
    restored = restoring.restore(path, other, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    assert restored.version == VERSION


def made(path: Path, *, kind: int = stat.S_IFREG, way: int = ZIP_STORED, content: bytes = b"x") -> Path:
    info = ZipInfo("README.txt")
    info.external_attr = (kind | 0o777) << 16
    info.compress_type = way
    with ZipFile(path, "w") as archive:
        archive.writestr(info, content)
    return path


def test_links_and_devices_are_refused(standing: Standing, tmp_path: Path) -> None:
    for kind in (stat.S_IFLNK, stat.S_IFCHR, stat.S_IFIFO, stat.S_IFDIR):
        standing.refuses(made(tmp_path / "x.zip", kind=kind, content=b"/etc/passwd"), "is no plain file")


def test_a_bomb_is_refused_before_it_is_opened(standing: Standing, tmp_path: Path) -> None:
    """Ten megabytes of zeros in ten kilobytes; everything in a backup is stored as it is."""
    standing.refuses(made(tmp_path / "x.zip", way=ZIP_DEFLATED, content=bytes(10 << 20)), "is compressed")


def test_a_name_twice_is_refused(standing: Standing, parts: Parts, tmp_path: Path) -> None:
    path = pack(tmp_path / "x.zip", parts)
    with ZipFile(path, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("manifest.json", parts["manifest.json"])
    standing.refuses(path, "names a file twice")


def test_an_encrypted_file_is_refused(standing: Standing, parts: Parts, tmp_path: Path) -> None:
    path = pack(tmp_path / "x.zip", parts)
    content = bytearray(path.read_bytes())
    place = content.index(b"PK\x01\x02")
    content[place + 8] |= 1  # the flag in the list of names
    path.write_bytes(content)
    standing.refuses(path, "is encrypted")


def test_two_names_for_the_same_bytes_are_refused(standing: Standing, parts: Parts, tmp_path: Path) -> None:
    """An overlapping bomb: many names that share one large content, so that a small file holds much."""
    path = pack(tmp_path / "x.zip", parts)
    content = bytearray(path.read_bytes())
    sizes = struct.pack("<LL", 1 << 30, 1 << 30)
    for place in _all(content, b"PK\x01\x02"):
        content[place + 20 : place + 28] = sizes
    path.write_bytes(content)
    standing.refuses(path, "claims to hold more")


def _all(content: bytes | bytearray, mark: bytes) -> Iterator[int]:
    place = content.find(mark)
    while place >= 0:
        yield place
        place = content.find(mark, place + 1)


def test_a_content_that_its_own_sum_denies_is_refused(standing: Standing, parts: Parts, tmp_path: Path) -> None:
    path = pack(tmp_path / "x.zip", parts)
    content = path.read_bytes()
    place = content.index(zlib.crc32(parts[ORIGINAL]).to_bytes(4, "little"), content.index(b"PK\x01\x02"))
    path.write_bytes(content[:place] + b"\x00\x00\x00\x00" + content[place + 4 :])
    standing.refuses(path, "damaged one")


@pytest.mark.parametrize("content", [b"", b"PK", b"GIF89a" * 100, b"PK\x05\x06" + bytes(18), bytes(100_000)])
def test_what_is_no_zip_or_an_empty_one_is_refused(standing: Standing, tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "x.zip"
    path.write_bytes(content)
    standing.refuses(path, "no backup of Benchtide")


def test_a_folder_or_no_file_at_all_is_refused(standing: Standing, tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "nothing.zip"):
        with pytest.raises(RestoreError, match="Nothing was restored, and all is as it was"):
            restoring.restore(path, standing.engine, standing.store, NOW, folder=standing.folder)
    assert making.tree(standing.folder) == standing.before


def test_half_of_an_archive_is_refused(standing: Standing, archive: Path, tmp_path: Path) -> None:
    whole = archive.read_bytes()
    path = tmp_path / "half.zip"
    for share in (0.1, 0.5, 0.9, 0.999):
        path.write_bytes(whole[: int(len(whole) * share)])
        standing.refuses(path, "no backup of Benchtide")


def test_no_byte_that_changed_does_any_harm(
    standing: Standing, archive: Path, tmp_path: Path, sqlite_template: Path
) -> None:
    """Eighty archives with a few bytes changed by chance: refused, or taken whole where it does not matter."""
    whole, chance, taken = archive.read_bytes(), random.Random(19), 0
    target = making.empty(sqlite_template, tmp_path / "target.db")
    path = tmp_path / "x.zip"
    for _ in range(80):
        content = bytearray(whole)
        for _ in range(chance.randint(1, 4)):
            content[chance.randrange(len(content))] = chance.randrange(256)
        path.write_bytes(content)
        try:
            with restoring.prepared(path, NOW, folder=tmp_path) as found:
                taken += 1
                assert found.manifest.row_count == 2 * len(found.manifest.rows)
        except RestoreError:
            pass
    assert taken < 60
    target.dispose()


def test_memory_stays_flat_whatever_is_in_it(standing: Standing, parts: Parts, tmp_path: Path) -> None:
    """An archive of 60 MB in one photo, in one list, in many lines: none of them is taken into memory as a whole."""
    large = bytes(60 << 20)
    line = parts["rows/build.jsonl"].split(b"\n")[0] + b"\n"
    cases = (
        ({**parts, ORIGINAL: large}, "is not the file it was"),
        (with_list(parts, "rows/build.jsonl", large), "too long"),
        (with_list(parts, "rows/build.jsonl", line * (len(large) // len(line))), "does not fit its table"),
        ({**parts, "manifest.json": large}, "manifest.json is too long"),
        ({**parts, "README.txt": large, "extra": b""}, "does not belong"),
    )
    paths = [pack(tmp_path / f"{number}.zip", content) for number, (content, _) in enumerate(cases)]
    for path, (_, says) in zip(paths, cases, strict=True):
        tracemalloc.start()
        standing.refuses(path, says)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert peak < 24 << 20, says


def test_more_names_than_a_backup_can_have_are_refused_without_taking_them_in(
    standing: Standing, tmp_path: Path
) -> None:
    entry = struct.pack("<4s4B4HL2L5H2L", b"PK\x01\x02", 20, 0, 20, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0) + b"x"
    count = MOST_FILES + 10
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 0xFFFF, 0xFFFF, len(entry) * count, 0, 0)
    path = tmp_path / "x.zip"
    path.write_bytes(entry * count + end)
    tracemalloc.start()
    standing.refuses(path, "names more than 300,000 files")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 40 << 20
