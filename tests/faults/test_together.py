"""The short form of many makers at once, with a backup in the midst of it."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.faults import archives
from tests.faults.servers import Benchtide
from tests.faults.together import Together
from tests.postgres import start
from tests.workers import Workers


def test_makers_at_once_lose_nothing_and_a_backup_meanwhile_is_whole(tmp_path: Path) -> None:
    """SA19: by command, while the server runs; restored into another folder and looked through there."""
    archive, server = tmp_path / "shop.zip", Benchtide(tmp_path / "instance")
    with server, ThreadPoolExecutor(1) as threads:
        all_work = Together(server.base, makers=3, rounds=4)
        work = threads.submit(all_work.run)
        all_work.begun.wait(60)
        taken = archives.take(server, all_work.ledger.so_far(), archive)
        work.result()
    found = all_work.figures("SQLite", server.url, server.settings.photos)
    assert found.wrong == ()
    assert found.lost == 0
    assert found.acknowledged == 3 * 4 * 2 + 3 * 2
    again = archives.restored(Benchtide(tmp_path / "elsewhere"), archive, taken, "SQLite")
    assert again.wrong == ()
    assert again.acknowledged == again.found > 0


@pytest.mark.postgres
def test_so_they_do_at_two_processes_on_postgresql(tmp_path: Path) -> None:
    with start() as database, Workers(tmp_path / "instance", database.url) as server:
        all_work = Together(server.base, makers=3, rounds=4)
        all_work.run()
        server.stop()
        found = all_work.figures("PostgreSQL", server.url, server.settings.photos)
    assert found.wrong == ()
    assert found.lost == 0
