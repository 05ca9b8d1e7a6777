"""What sign-ins are sealed with: made once, whole, and the same for every process."""

import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest

from webapp.db.trouble import StartError
from webapp.settings import Settings
from webapp.web.secret import secret_of


def test_it_is_made_on_first_use_for_its_owner_only(tmp_path: Path) -> None:
    first = secret_of(Settings(instance=tmp_path / "new"))
    assert len(first) == 64
    assert secret_of(Settings(instance=tmp_path / "new")) == first
    (path,) = (tmp_path / "new").iterdir()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_who_begins_at_one_moment_has_the_same(tmp_path: Path) -> None:
    """Threads here, processes in life: the file is all they share."""
    start = Barrier(4)

    def ask(instance: Path) -> str:
        start.wait()
        return secret_of(Settings(instance=instance))

    with ThreadPoolExecutor(4) as pool:
        for instance in (tmp_path / str(number) for number in range(20)):
            assert len(set(pool.map(ask, [instance] * 4))) == 1
            assert [path.name for path in instance.iterdir()] == ["secret"]


def test_where_a_disk_has_no_links_it_is_made_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_path: Path, _target: Path) -> None:
        raise PermissionError("no links here")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    assert len(secret_of(Settings(instance=tmp_path))) == 64
    assert [path.name for path in tmp_path.iterdir()] == ["secret"]


def test_one_that_a_crash_left_half_written_says_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("")
    with pytest.raises(StartError, match=r"secret is not whole\. Delete it"):
        secret_of(Settings(instance=tmp_path))


def test_the_one_of_the_settings_counts(tmp_path: Path) -> None:
    assert secret_of(Settings(instance=tmp_path, secret="x" * 32)) == "x" * 32
    assert list(tmp_path.iterdir()) == []
