"""A folder to work in, which goes away. One that a crash left behind goes the next time, or with `benchtide sweep`."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

PREFIX = ".backup-"
KEPT_AT_LEAST = timedelta(days=1)  # a backup that is being made works in its own


@contextmanager
def scratch(folder: Path, now: datetime) -> Iterator[Path]:
    """Yield a folder within a folder, for nobody else to read."""
    is_new = not folder.exists()
    folder.mkdir(parents=True, exist_ok=True)
    for path in left(folder, now):
        shutil.rmtree(path, ignore_errors=True)
    try:
        with TemporaryDirectory(prefix=PREFIX, dir=folder, ignore_cleanup_errors=True) as name:
            yield Path(name)
    finally:
        if is_new:
            with suppress(OSError):
                folder.rmdir()


def left(folder: Path, now: datetime) -> list[Path]:
    """Return what a crash left behind."""
    return [path for path in sorted(folder.glob(f"{PREFIX}*")) if path.is_dir() and forgotten(path, now)]


def forgotten(path: Path, now: datetime) -> bool:
    """Return whether nobody can be at work on a file or folder any more."""
    try:
        touched = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except FileNotFoundError:
        return False
    return touched < now - KEPT_AT_LEAST
