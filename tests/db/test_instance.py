"""One server at a time on a SQLite file, and none on a file that lies where it would be lost."""

import os
import signal
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from webapp.db import instance
from webapp.db.trouble import StartError

NOW = datetime(2026, 2, 3, 14, 18, tzinfo=UTC)
HOLD = """
import sys, time
from datetime import UTC, datetime
from webapp.db import instance
with instance.held(sys.argv[1], "serve", datetime.now(UTC)):
    print("held", flush=True)
    time.sleep(60)
"""


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'benchtide.db'}"


def test_a_second_one_is_told_who_has_it_and_since_when(url: str) -> None:
    with (
        instance.held(url, "serve", NOW),
        pytest.raises(instance.InUseError, match=rf"benchtide serve, process {os.getpid()}, since Tuesday, 3 February"),
        instance.held(url, "restore", NOW),
    ):
        pass


def test_it_is_free_again_afterwards(url: str) -> None:
    for what in ("serve", "restore"):
        with instance.held(url, what, NOW):
            pass
    assert Path(url.removeprefix("sqlite:///")).with_suffix(".lock").read_bytes() == b""


def test_a_process_that_was_killed_holds_nothing(url: str) -> None:
    holder = subprocess.Popen([sys.executable, "-c", HOLD, url], stdout=subprocess.PIPE, text=True)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    with pytest.raises(instance.InUseError, match=f"process {holder.pid}"), instance.held(url, "serve", NOW):
        pass
    holder.send_signal(signal.SIGKILL)
    holder.wait()
    holder.stdout.close()
    with instance.held(url, "serve", NOW):
        pass


def test_who_waits_a_moment_gets_no_sentence_without_a_name(url: str) -> None:
    """Between taking the instance and writing one's name there is nothing to read."""
    path = Path(url.removeprefix("sqlite:///")).with_suffix(".lock")
    with instance.held(url, "serve", NOW):
        path.write_bytes(b"12")
        with (
            pytest.raises(instance.InUseError, match=r"already runs on this instance\. Stop it"),
            instance.held(url, "serve", NOW),
        ):
            pass


def test_on_a_database_server_several_may_run() -> None:
    url = "postgresql+psycopg://app@/postgres"
    with instance.held(url, "serve", NOW), instance.held(url, "serve", NOW):
        assert instance.database_file(url) is None


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with (
        pytest.raises(StartError, match="cannot be written to"),
        instance.held(f"sqlite:///{tmp_path / 'gone' / 'x.db'}", "serve", NOW),
    ):
        pass
