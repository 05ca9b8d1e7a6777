"""The store in a folder: whole or not there, for good. What it has in common with a bucket: test_stores.py."""

import errno
import os
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest

from webapp.web import files

HASH = "ab" + "0" * 62
KEY = f"{HASH}.original"


@pytest.fixture
def folder(tmp_path: Path) -> files.Folder:
    return files.Folder(tmp_path / "photos")


class FullDisk(BytesIO):
    """What a write to a full disk looks like from inside."""

    def read(self, size: int | None = -1) -> bytes:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def all_files(folder: files.Folder) -> list[str]:
    return sorted(path.name for path in folder.root.rglob("*") if path.is_file())


def test_a_file_is_named_by_its_content() -> None:
    """Source: FIPS 180-4, the example "abc"."""
    source = BytesIO(b"abc")
    assert files.name_of(source) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert source.tell() == 0


def test_putting_it_again_changes_nothing_but_its_age(folder: files.Folder) -> None:
    folder.put(KEY, BytesIO(b"oak"))
    path = folder.path(KEY)
    os.utime(path, (0, 0))
    folder.put(KEY, BytesIO(b"ash"))
    assert path.read_bytes() == b"oak"
    assert path.stat().st_mtime > 1_000_000_000


def test_a_full_disk_leaves_nothing_behind_and_says_so(folder: files.Folder) -> None:
    with pytest.raises(files.StoreError, match="the disk of the server is full"):
        folder.put(KEY, FullDisk(b"oak"))
    assert all_files(folder) == []


def test_a_folder_that_cannot_be_made_says_so(tmp_path: Path) -> None:
    (tmp_path / "photos").write_text("in the way")
    with pytest.raises(files.StoreError, match="could not write"):
        files.Folder(tmp_path / "photos").put(KEY, BytesIO(b"oak"))


def test_it_is_on_the_disk_before_it_has_its_name(folder: files.Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    """The order of the calls, as fsync(2) and rename(2) ask for: content, name, folder."""
    seen = []
    sync, replace = os.fsync, Path.replace

    def syncing(descriptor: int) -> None:
        path = Path(f"/proc/self/fd/{descriptor}").readlink()
        seen.append("folder" if path.is_dir() else "content")
        if path.suffix == ".part":
            assert path.read_bytes() == b"oak"
        sync(descriptor)

    def renaming(path: Path, target: Path) -> Path:
        seen.append("name")
        return replace(path, target)

    folder.put(f"{HASH}.small.webp", BytesIO(b"elm"))
    monkeypatch.setattr(os, "fsync", syncing)
    monkeypatch.setattr(Path, "replace", renaming)
    folder.put(KEY, BytesIO(b"oak"))
    assert seen == ["content", "name", "folder"]


def test_all_that_is_kept_is_listed_with_its_age(folder: files.Folder) -> None:
    folder.put(KEY, BytesIO(b"oak"))
    left = folder.root / "ab" / f"{KEY}.x1y2_z3w.part"
    left.write_bytes(b"o")
    (folder.root / "ab" / "notes.txt").write_text("somebody's own")
    kept = dict(folder.kept())
    assert set(kept) == {KEY, left.name}
    assert all(abs(datetime.now(UTC) - put) < timedelta(minutes=5) for put in kept.values())
