"""Every form as it is served and every route of the map, fed with what nobody means well by.

Nothing sent may end in a broken page, leave a file outside the instance, be stored where it was refused, or be stored
in a form that a page or the planner stumbles over. The full form is `python -m tests.faults hostile`.
An own generator and not one of the libraries for it: those read a description of an API, and here forms are the API.
"""

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from flask import Flask
from sqlalchemy import Engine

from tests.conftest import START
from tests.hostile.inside import Inside
from tests.hostile.routes import nowhere, of_routes
from tests.hostile.rows import wrong_rows
from tests.hostile.run import Run
from tests.hostile.sweep import begin, forms_to_try, look_again, starts

SEED = "benchtide"


@pytest.fixture
def run(app: Flask, engine: Engine, request: pytest.FixtureRequest) -> Run:
    """A browser in the invented shop, where there is something of everything."""
    app.config["INVENTED_PICTURES"] = 2
    found = Run(Inside(app), _changes(engine, request))
    begin(found)
    return found


def _changes(engine: Engine, request: pytest.FixtureRequest) -> Callable[[], int] | None:
    """Return what counts the transactions that stored something: SQLite tells one connection of those of others."""
    if engine.dialect.name != "sqlite":
        return None
    connection = engine.raw_connection()
    request.addfinalizer(connection.close)
    return lambda: int(connection.cursor().execute("PRAGMA data_version").fetchone()[0])


def test_nothing_sent_breaks_anything_or_is_stored_wrong(app: Flask, run: Run, tmp_path: Path) -> None:
    on_sqlite = run.state is not None
    forms = forms_to_try(app, run, alike=1)
    run.try_forms(forms, SEED, each=1, more=1, most=2 if on_sqlite else 1)
    assert len(forms) > 60, "the walk did not get to the forms"
    refused = {form: status for form, status in run.meant_well.items() if status >= 500}
    assert (refused, run.findings) == ({}, [])
    assert wrong_rows(app, START) == []
    assert look_again(app, run, alike=1).findings == []
    assert {path.name for path in tmp_path.iterdir()} <= {
        "benchtide.db",
        "benchtide.db-wal",
        "benchtide.db-shm",
        "instance",
    }


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nearly all of it is turned away before any database
def test_no_route_breaks_by_its_address_or_its_head(app: Flask, run: Run) -> None:
    for attempt in [*of_routes(app, Random(SEED), 1), *nowhere()]:
        run.send(attempt)
    assert starts(app)
    assert sum(run.statuses.values()) > 500
    assert run.findings == []
