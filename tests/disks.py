"""A small disk that can be filled for real: a mount where that is allowed, else a limit on the size of files."""

import errno
import os
import resource
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

MEGABYTE = 1 << 20


@dataclass
class SmallDisk:
    """A folder on a disk with little room."""

    folder: Path
    is_mounted: bool

    @property
    def says_full(self) -> int:
        """The status of a page that could not be saved; a limit on files looks to SQLite like a disk that fails."""
        return 507 if self.is_mounted else 503

    @contextmanager
    def full(self) -> Iterator[None]:
        """Leave no room while the block runs."""
        if self.is_mounted:
            ballast = self.folder / "ballast"
            _fill(ballast)
            yield
            ballast.unlink()
            return
        most = max((path.stat().st_size for path in self.folder.rglob("*") if path.is_file()), default=0)
        soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (min(most, 4096), hard))
        yield
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def _fill(path: Path) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT)
    try:
        for size in (65536, 4096, 1):
            while _wrote(descriptor, size):
                pass
    finally:
        os.close(descriptor)


def _wrote(descriptor: int, size: int) -> bool:
    try:
        return os.write(descriptor, b"x" * size) == size
    except OSError as error:
        if error.errno != errno.ENOSPC:
            raise
        return False


def mount(folder: Path, options: str) -> bool:
    """Mount a disk of memory on a folder; returns whether that is allowed here."""
    if os.geteuid() != 0 or not shutil.which("mount"):
        return False
    return subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", folder], capture_output=True).returncode == 0


def unmount(folder: Path) -> None:
    subprocess.run(["umount", "--lazy", folder], check=True, capture_output=True)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[SmallDisk]:
    folder = tmp_path / "disk"
    folder.mkdir()
    is_mounted = mount(folder, f"size={4 * MEGABYTE}")
    yield SmallDisk(folder, is_mounted)
    if is_mounted:
        unmount(folder)


@pytest.fixture
def read_only_folder(tmp_path: Path) -> Iterator[Path]:
    """A folder that nobody can write to: root may write anywhere, but not on a disk that is mounted so."""
    folder = tmp_path / "frozen"
    folder.mkdir()
    is_mounted = mount(folder, "ro")
    if not is_mounted:
        folder.chmod(0o500)
    yield folder
    if is_mounted:
        unmount(folder)
    else:
        folder.chmod(0o700)
