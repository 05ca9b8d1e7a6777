"""Published critical-path networks, planned in a shop that never shuts with people enough: early and late times.

Source: `tests/reference/cpm_examples.json`, each network with its own. Start-to-start and finish-to-finish links are
not of the shop document, so the networks with these are left out.
"""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.planning.checked_plan import checked_plan
from tests.planning.checker import minute
from tests.planning.shop import ALWAYS, build, op, shop
from webapp.planning.document import read
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.latest import latest_starts
from webapp.planning.place import lay_out

REFERENCE = Path(__file__).parent.parent / "reference" / "cpm_examples.json"
NETWORKS = [
    pytest.param(network, id=network["id"])
    for network in json.loads(REFERENCE.read_text(encoding="utf-8"))["cpm"]
    if all(link["type"] == "FS" for link in network["relations"])
]
HOUR = 60


def as_shop(network: dict[str, Any]) -> dict[str, Any]:
    """The network as one build, a unit of its time being an hour."""
    operations = []
    for activity in network["activities"]:
        links = [
            {"operation": link["pred"], "lag_minutes": link["lag"] * HOUR}
            for link in network["relations"]
            if link["succ"] == activity["id"]
        ]
        operations.append(op(activity["id"], activity["duration"] * HOUR, "assemble", links, split=False))
    return shop(build(*operations), hours=ALWAYS, makers=len(operations), now="2026-02-02T00:00:00-05:00")


def test_all_networks_of_plain_links_are_here() -> None:
    assert len(NETWORKS) == 4


@pytest.mark.parametrize("network", NETWORKS)
def test_early_times_and_length_are_the_published_ones(network: dict[str, Any]) -> None:
    document = as_shop(network)
    plan = checked_plan(document)
    found = {one["key"]: one for one in plan["builds"][0]["operations"]}
    now = read(document).now
    for activity in network["activities"]:
        one = found[activity["id"]]
        assert [hours_from(now, one["start"]), hours_from(now, one["finish"])] == [activity["ES"], activity["EF"]]
    assert hours_from(now, plan["builds"][0]["finish"]) == network["project_length"]


@pytest.mark.parametrize("network", NETWORKS)
def test_latest_starts_are_the_published_late_starts_and_float_is_nought_on_the_critical_path(
    network: dict[str, Any],
) -> None:
    document = read(as_shop(network))
    graph, hours = Graph(document), Hours(document.shop)
    # A network knows no people, so here everybody has one operation and nobody follows another for their sake.
    laid = {
        number: replace(one, slot=replace(one.slot, people=(number,)) if one.slot else None)
        for number, one in lay_out(graph, hours).items()
    }
    limit = document.now + network["project_length"] * HOUR
    latest = latest_starts(graph, hours, laid, {0: limit})
    found = {graph.nodes[number].key: (start - document.now) // HOUR for number, start in latest.items()}
    assert found == {activity["id"]: activity["LS"] for activity in network["activities"]}
    critical = [activity["id"] for activity in network["activities"] if found[activity["id"]] == activity["ES"]]
    assert sorted(critical) == sorted(network["critical"])


def hours_from(now: int, text: str) -> float:
    return ((minute(text) or 0) - now) / HOUR
