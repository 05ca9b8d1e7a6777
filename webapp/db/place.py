"""Whether a SQLite file can live where it lies: on a disk of this computer, and one that can be written to."""

import os
import sqlite3
import sys
from pathlib import Path
from tempfile import TemporaryFile

from webapp.db.trouble import BUSY, DAMAGED, FULL, READ_ONLY, StartError, trouble_of

MOUNTS = Path("/proc/self/mountinfo")
PATIENCE = 5.0  # seconds
# file systems that lie on another computer, or on the host of a virtual machine: the memory that SQLite's log shares
# between processes does not reach that far, and locks often do not either
FAR = frozenset(
    {
        *("nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "afpfs", "coda", "davfs"),
        *("9p", "vboxsf", "vmhgfs", "prl_fs", "shfs"),
        *("ceph", "glusterfs", "lustre", "beegfs", "gpfs", "orangefs", "gfs", "gfs2", "ocfs2"),
    }
)
NEAR_FUSE = frozenset({f"fuse.{name}" for name in ("ntfs", "ntfs-3g", "exfat", "ext4", "gocryptfs", "mergerfs")})
ESCAPES = {r"\040": " ", r"\011": "\t", r"\012": "\n", r"\134": "\\"}
WAY_OUT = (
    "SQLite loses data there. Move the folder to a disk of this computer and set BENCHTIDE_INSTANCE to it, "
    "or set DATABASE_URL to a PostgreSQL server."
)
OTHERWISE = "{path} cannot be opened."
SENTENCES = {
    FULL: "The disk that {path} lies on is full. Make room on it, then start again.",
    READ_ONLY: "{path} cannot be written to: the disk, the folder or the file is read-only for this user. "
    "Look after the disk and the rights of the folder, then start again.",
    BUSY: "Another program keeps {path} locked. Close it, then start again.",
    DAMAGED: "{path} is not a database, or the disk it lies on fails. Keep a copy of it, and restore the last backup.",
}


def check(database: Path) -> None:
    """Make the folder of a database where there is none; raise StartError where the file cannot live there."""
    where = far_file_system(database.parent)
    if where:
        raise StartError(f"{database} lies on a network share or a shared folder ({where}). {WAY_OUT}")
    check_folder(database.parent)
    try:
        _open(database)
    except sqlite3.Error as error:
        raise _said(database, error) from error


def check_folder(folder: Path) -> None:
    """Make a folder where there is none, and write in it; raise StartError where that cannot be."""
    try:
        folder.mkdir(0o700, parents=True, exist_ok=True)  # it holds hashes of passwords, and photos as sent
        with TemporaryFile(dir=folder) as probe:
            probe.write(b"x" * 4096)
            probe.flush()
            os.fsync(probe.fileno())
    except OSError as error:
        raise _said(folder, error) from error


def _open(database: Path) -> None:
    """Take the file for writing, as every page that saves will, and let it go."""
    connection = sqlite3.connect(database, timeout=PATIENCE, isolation_level=None)
    try:
        found = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("ROLLBACK")
    finally:
        connection.close()
    if found != "wal":
        raise StartError(f"The disk that {database} lies on does not keep SQLite's log. {WAY_OUT}")


def _said(path: Path, error: Exception) -> StartError:
    trouble = trouble_of(error)
    sentence = SENTENCES.get(trouble, OTHERWISE) if trouble else OTHERWISE
    return StartError(f"{sentence.format(path=path)} ({getattr(error, 'strerror', None) or error})")


def far_file_system(folder: Path) -> str:
    """Return the kind of file system where a folder lies on another computer; empty where it is near, or nobody says.

    Linux says it in /proc, Windows by the name of the path (a mapped drive too); macOS does not say it in a file.
    """
    there = folder.resolve()
    if sys.platform == "win32":
        return windows_share(str(there))
    try:
        mounts = MOUNTS.read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        return ""
    kind = file_system(mounts, there)
    is_far = kind in FAR or (kind.startswith("fuse.") and kind not in NEAR_FUSE)
    return kind if is_far else ""


def windows_share(path: str) -> str:
    r"""Return what is far about a resolved path of Windows: \\server\share is, C:\ is not."""
    is_share = path.startswith("\\\\") and not path.startswith(("\\\\?\\", "\\\\.\\"))
    return "network share" if is_share or path.startswith("\\\\?\\UNC\\") else ""


def file_system(mounts: str, folder: Path) -> str:
    """Return the kind of file system a folder lies on, by what Linux says of its mounts (proc(5), mountinfo)."""
    best, kind = -1, ""
    for line in mounts.splitlines():
        before, _, after = line.partition(" - ")
        fields = before.split(" ")
        if len(fields) < 5 or not after:
            continue
        point = Path(_plain(fields[4]))
        if folder.is_relative_to(point) and len(point.parts) >= best:  # of two on one place the later hides the other
            best, kind = len(point.parts), after.split(" ")[0]
    return kind


def _plain(text: str) -> str:
    for written, meant in ESCAPES.items():
        text = text.replace(written, meant)
    return text
