"""Every id in every address, put in the place of one's own: what another shop has does not exist."""

from collections.abc import Iterator
from itertools import product
from typing import Any

import pytest

from tests.rights.conftest import Begin
from tests.rights.marks import NOBODYS, twin
from tests.rights.rows import OF_NO_SHOP, tables
from tests.rights.sweep import Route, Sweep, is_id, routes
from webapp.tables import metadata

ON_POSTGRES = pytest.param("owner", "postgres", marks=pytest.mark.postgres)
JSON = {"Accept": "application/json"}


def swapped(route: Route) -> Iterator[dict[str, Any]]:
    """Yield the values of an address with at least one id that is not ours: each alone, and all together."""
    ids = [name for name, value in route.values.items() if is_id(value)]
    for chosen in product((False, True), repeat=len(ids)):
        if any(chosen):
            yield {
                name: twin(str(route.values[name])) for name, is_theirs in zip(ids, chosen, strict=True) if is_theirs
            }


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_each_shop_has_rows_in_every_table(sweeping: Begin) -> None:
    """What is not there cannot leak: a new table gets its row in tests/rights/world.py."""
    sweep = sweeping("owner")
    assert [table.name for table in tables() if not sweep.untouched[table.name]] == []
    assert set(metadata.tables) - {table.name for table in tables()} == OF_NO_SHOP


@pytest.mark.parametrize(
    ("role", "engine"), [("owner", "sqlite"), ("helper", "sqlite"), ON_POSTGRES], indirect=["engine"]
)
def test_what_is_anothers_is_answered_as_what_nobody_has(sweeping: Begin, role: str) -> None:
    """Status and page are the same for an id of theirs and for one that is not there, with any method."""
    sweep = sweeping(role)
    # the line at the top tells of the visitor's own shop, on every page alike; test_fields.py walks through all of them
    sweep.app.extensions["panels"] = {**sweep.app.extensions["panels"], "head": []}
    for route in routes(sweep.app, sweep.ours):
        for values in swapped(route):
            _compare(sweep, route, values)
    sweep.report("ids in addresses")
    assert sweep.counted["ids"] > 100, "the routes have more than that"


def _compare(sweep: Sweep, route: Route, theirs: dict[str, Any]) -> None:
    address = route.address(theirs)
    nobodys = route.address({name: twin(str(route.values[name]), NOBODYS) for name in theirs})
    for method, headers in _ways(sweep, route):
        answer, other = (sweep.ask(method, where, headers=headers) for where in (address, nobodys))
        sweep.counted["ids"] += 1
        if answer.said(but=address) != other.said(but=nobodys):
            sweep.note(answer, f"differs from what is nowhere ({other.status})")
        if method == route.method and answer.status not in (404, 403 if sweep.role == "helper" else 404):
            sweep.note(answer, "is not 404")


def _ways(sweep: Sweep, route: Route) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield (method, headers): as helper and on the second database only as it is meant to be asked for."""
    yield route.method, {}
    if sweep.role == "owner" and sweep.connection.dialect.name == "sqlite":
        yield route.method, JSON
        yield from ((method, {}) for method in ("HEAD", "OPTIONS", "PUT") if route.method == "GET")
