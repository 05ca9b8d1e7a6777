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
    sweep(folder, now)
    try:
        with TemporaryDirectory(prefix=PREFIX, dir=folder, ignore_cleanup_errors=True) as name:
            yield Path(name)
    finally:
        if is_new:
            with suppress(OSError):
                folder.rmdir()


def sweep(folder: Path, now: datetime, *, delete: bool = True) -> list[Path]:
    """Return what a crash left behind a day ago or earlier; delete it as well."""
    found = [path for path in sorted(folder.glob(f"{PREFIX}*")) if path.is_dir() and forgotten(path, now)]
    for path in found if delete else ():
        shutil.rmtree(path, ignore_errors=True)
    return found


def forgotten(path: Path, now: datetime) -> bool:
    """Return whether nobody can be at work on a file or folder any more."""
    try:
        touched = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except FileNotFoundError:
        return False
    return touched < now - KEPT_AT_LEAST
