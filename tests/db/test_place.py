"""Where a SQLite file may lie. Mount lines as proc(5) gives the form of them: kind of file system after the hyphen."""

import os
import sqlite3
import stat
from pathlib import Path

import pytest

from webapp.db import place
from webapp.db.trouble import StartError

MOUNTS = r"""22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
30 22 0:44 / /mnt/nas rw,relatime shared:9 - nfs4 nas:/export rw,vers=4.2
31 22 0:45 / /media/shop\040share rw - cifs //nas/shop rw
32 22 0:46 / /mnt/c rw - 9p C:\134 rw
33 22 0:47 / /media/sf_shop rw - vboxsf shop rw
34 22 0:48 / /home/ada/far rw - fuse.sshfs ada@far:/ rw
35 22 8:17 / /media/stick rw - fuseblk /dev/sdb1 rw
36 30 8:33 / /mnt/nas/own rw - ext4 /dev/sdc1 rw
37 22 8:49 / /twice rw - ext4 /dev/sdd1 rw
38 22 0:50 / /twice rw - smb3 //nas/shop rw
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/ada/benchtide", ""),
        ("/mnt/nas", "nfs4"),
        ("/mnt/nas/deep/in", "nfs4"),
        ("/mnt/nasty", ""),
        ("/mnt/nas/own/instance", ""),
        ("/media/shop share/instance", "cifs"),
        ("/mnt/c/Users/ada", "9p"),
        ("/media/sf_shop", "vboxsf"),
        ("/home/ada/far/x", "fuse.sshfs"),
        ("/media/stick", ""),
        ("/twice", "smb3"),
    ],
)
def test_shares_are_known_by_their_kind(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, folder: str, kind: str
) -> None:
    """SA05: (b) the log of SQLite needs memory that is shared, which a network share has not."""
    mounts = tmp_path / "mountinfo"
    mounts.write_text(MOUNTS)
    monkeypatch.setattr(place, "MOUNTS", mounts)
    assert place.far_file_system(Path(folder)) == kind


def test_a_database_on_a_share_is_refused_with_a_way_out(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """SA05: (b) refused at start, before a file is made there."""
    mounts = tmp_path / "mountinfo"
    mounts.write_text(f"22 1 8:1 / / rw - ext4 /dev/sda1 rw\n30 22 0:44 / {tmp_path} rw - nfs4 nas:/shop rw\n")
    monkeypatch.setattr(place, "MOUNTS", mounts)
    with pytest.raises(StartError, match=r"network share .*nfs4.*BENCHTIDE_INSTANCE.*PostgreSQL"):
        place.check(tmp_path / "instance" / "benchtide.db")
    assert not (tmp_path / "instance").exists()


def test_a_link_to_a_share_is_a_share(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """SA05: what counts is where the folder really is."""
    mounts = tmp_path / "mountinfo"
    mounts.write_text(f"22 1 8:1 / / rw - ext4 /dev/sda1 rw\n30 22 0:44 / {tmp_path}/nas rw - cifs //nas/shop rw\n")
    monkeypatch.setattr(place, "MOUNTS", mounts)
    (tmp_path / "nas").mkdir()
    (tmp_path / "instance").symlink_to(tmp_path / "nas")
    assert place.far_file_system(tmp_path / "instance") == "cifs"


def test_where_the_system_says_nothing_nothing_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(place, "MOUNTS", tmp_path / "there is none")
    assert place.far_file_system(tmp_path) == ""
    place.check(tmp_path / "instance" / "benchtide.db")


@pytest.mark.parametrize(
    ("path", "is_share"),
    [
        (r"\\nas\shop\instance", True),
        (r"\\?\UNC\nas\shop\instance", True),
        (r"\\?\C:\instance", False),
        (r"C:\Users\ada\instance", False),
    ],
)
def test_shares_of_windows_are_known_by_their_path(path: str, is_share: bool) -> None:
    """SA05: a mapped drive comes out as such a path too once it is resolved. From memory, not tried on Windows."""
    assert bool(place.windows_share(path)) is is_share


def test_what_is_no_database_is_said(tmp_path: Path) -> None:
    path = tmp_path / "benchtide.db"
    path.write_bytes(b"a letter to a client, " * 300)
    with pytest.raises(StartError, match=r"is not a database.*restore the last backup"):
        place.check(path)
    assert path.read_bytes() == b"a letter to a client, " * 300


def test_a_file_that_somebody_keeps_locked_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SA05: a real second connection that does not let go."""
    path = tmp_path / "benchtide.db"
    place.check(path)
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    monkeypatch.setattr(place, "PATIENCE", 0.2)
    with pytest.raises(StartError, match=r"keeps .*benchtide.db locked"):
        place.check(path)
    other.close()
    place.check(path)


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX")
def test_a_folder_that_is_made_is_for_its_owner_only(tmp_path: Path) -> None:
    place.check_folder(tmp_path / "new" / "instance")
    assert stat.S_IMODE((tmp_path / "new" / "instance").stat().st_mode) == 0o700
