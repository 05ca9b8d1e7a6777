"""A correction names its line by an id and no key: one that names a line of another shop does nothing, either way."""

from typing import Any

import pytest
from sqlalchemy import insert

from tests.rights.conftest import Begin
from tests.rights.marks import OURS, THEIRS
from tests.rights.sweep import Sweep
from tests.rights.world import NOW
from webapp.journal.models import Entry

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


def put(sweep: Sweep, key: str, shop_id: int, **values: Any) -> None:
    row = {"id": key, "shop_id": shop_id, "kind": "noted", "at": NOW, "arrived_at": NOW, "data": {}, "folded": ""}
    sweep.connection.execute(insert(Entry).values(row | values))


def test_a_line_of_another_shop_corrects_nothing_of_ours(sweeping: Begin) -> None:
    sweep = sweeping("owner")
    line, build = sweep.ours.values["entry_id"], sweep.ours.values["build_id"]
    pages = ["/journal", "/journal?words=remark", f"/builds/{build}/journal", f"/entries/{line}/edit"]
    before = [sweep.ask("GET", page).said(but="") for page in pages]
    words = {"note": f"{THEIRS} remark"}
    put(sweep, "from-them-1", sweep.theirs.shop_id, corrects=line, data=words, folded=f"{THEIRS} remark".lower())
    put(sweep, "from-them-2", sweep.theirs.shop_id, corrects=line, kind="withdrawn")
    assert [sweep.ask("GET", page).said(but="") for page in pages] == before
    undone = sweep.ask("POST", f"/entries/{line}/undo", {"next": "/journal"})
    assert undone.wrote, "theirs took it back already"
    sweep.wrong.clear()  # it says that these rows were not there before
    sweep.report("corrections from another shop")


def test_a_line_of_ours_brings_none_of_theirs_to_light(sweeping: Begin) -> None:
    sweep = sweeping("owner")
    line, build = sweep.theirs.values["entry_id"], sweep.ours.values["build_id"]
    put(sweep, "from-us-1", sweep.ours.shop_id, corrects=line, build_id=build, data={"note": f"{OURS} hook"})
    for page in (
        "/journal",
        "/journal?words=hook",
        f"/builds/{build}/journal",
        f"/builds/{build}",
        "/",
        "/lookback?q=hook",
    ):
        sweep.ask("GET", page)
    sweep.report("corrections of another shop")
