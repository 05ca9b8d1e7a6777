"""The short form of `make faults`: each loop once, small."""

from pathlib import Path
from random import Random

import pytest

from tests.faults import migrations, restores
from tests.faults.kills import Kills
from tests.faults.servers import Benchtide
from tests.postgres import start


def test_what_was_acknowledged_is_there_after_kill_9(tmp_path: Path) -> None:
    """SA19: the journal of an interrupted server reads on, with each photo, and no file is left over."""
    found = Kills(Benchtide(tmp_path / "instance"), Random(), notes=20, photos=2).run(1)
    assert found.wrong == ()
    assert found.acknowledged == found.found == 22


@pytest.mark.postgres
def test_so_it_is_where_the_database_server_dies_as_well(tmp_path: Path) -> None:
    """SA05: its pages say so meanwhile, and it goes on by itself when the database is back."""
    with start() as database:
        server = Benchtide(tmp_path / "instance", database.url)
        found = Kills(server, Random(), notes=20, photos=2, database=database, every=1).run(1)
    assert found.wrong == ()
    assert found.acknowledged == found.found == 22


def test_a_migration_that_is_killed_leaves_old_or_new_tables(tmp_path: Path) -> None:
    found = migrations.run(tmp_path, rounds=1, size=3000, chance=Random())
    assert found.wrong == ()


def test_a_restore_that_is_killed_leaves_old_or_new_rows(tmp_path: Path) -> None:
    """SA17: never half of a backup among half of what stood there."""
    found = restores.run(tmp_path, rounds=1, notes=300, photos=5, chance=Random())
    assert found.wrong == ()
