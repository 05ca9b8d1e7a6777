"""Getting bytes onto the disk for good: a file's content, and the names in a folder."""

import os
import sys
from pathlib import Path

if sys.platform == "darwin":
    import fcntl


def sync_file(descriptor: int) -> None:
    """Return when the content of an open file is on the disk; on a Mac fsync alone leaves it in the disk's cache."""
    if sys.platform == "darwin":
        fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
    else:
        os.fsync(descriptor)


def sync_path(path: Path) -> None:
    """The same for a file that is closed."""
    with path.open("r+b") as file:
        sync_file(file.fileno())


def sync_folder(folder: Path) -> None:
    """Return when the names in a folder are on the disk: a rename is for good only after this."""
    if os.name != "posix":  # Windows has no such call and keeps its folders by itself
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
