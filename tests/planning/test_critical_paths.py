"""Networks of critical paths, planned in a shop that never shuts with people enough: early and late times, floats.

Published ones, from `tests/reference/cpm_examples.json`, each with its own source, and random ones against networkx.
The shop document has no links from start to start or from finish to finish. Where a network has them, an activity is
cut: into its first minute, which others may follow, its last, which follows others, and the rest. Minutes are dropped.
"""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

import networkx as nx
import pytest

from tests.planning.checked_plan import checked_plan
from tests.planning.checker import minute
from tests.planning.shop import ALWAYS, Json, build, op, shop
from webapp.planning.document import read
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.latest import latest_starts
from webapp.planning.network import EVERY_DAY, After, Build, Document, Maker, Opening, Operation, Shop
from webapp.planning.place import lay_out

REFERENCE = Path(__file__).parent.parent / "reference" / "cpm_examples.json"
NETWORKS = [
    pytest.param(network, id=network["id"]) for network in json.loads(REFERENCE.read_text(encoding="utf-8"))["cpm"]
]
HOUR = 60
Times = dict[str, tuple[int, int]]  # of each operation, from when until when


def as_shop(network: Json) -> Json:
    """The network as one build, a unit of its time being an hour."""
    ends = {link["succ"] for link in network["relations"] if link["type"] == "FF"}
    operations = [one for activity in network["activities"] for one in parts(activity, network["relations"], ends)]
    return shop(build(*operations), hours=ALWAYS, makers=len(operations), now="2026-02-02T00:00:00-05:00")


def parts(activity: Json, relations: list[Json], cut: set[str]) -> Iterator[Json]:
    """An activity as one operation, or as two or three that follow one another."""
    key, minutes = activity["id"], activity["duration"] * HOUR
    into = [link for link in relations if link["succ"] == key]
    links = [after(link, cut) for link in into if link["type"] != "FF"]
    if any(link["pred"] == key and link["type"] == "SS" for link in relations):
        yield op(f"{key}.first", 1, "assemble", links, split=False)
        links, minutes = [{"operation": f"{key}.first"}], minutes - 1
    ends = [after(link, cut) for link in into if link["type"] == "FF"]
    yield op(key, minutes - bool(ends), "assemble", links, split=False)
    if ends:
        yield op(f"{key}.last", 1, "assemble", [{"operation": key}, *ends], split=False)


def after(link: Json, cut: set[str]) -> Json:
    """A link to the end of an activity, or to that of its first minute: a minute of the lag is over by then."""
    if link["type"] == "SS":
        return {"operation": f"{link['pred']}.first", "lag_minutes": max(link["lag"] * HOUR - 1, 0)}
    last = f"{link['pred']}.last" if link["pred"] in cut else link["pred"]
    return {"operation": last, "lag_minutes": link["lag"] * HOUR - (link["type"] == "FF")}


def early(document: Json) -> Times:
    """The early times by the printed plan, in minutes from now."""
    plan, now = checked_plan(document), read(document).now
    found = {one["key"]: (one["start"], one["finish"]) for one in plan["builds"][0]["operations"]}
    return {key: ((minute(start) or 0) - now, (minute(end) or 0) - now) for key, (start, end) in found.items()}


def late(document: Document, length: int) -> Times:
    """The late times, in minutes from now, the whole being so long."""
    graph, hours = Graph(document), Hours(document.shop)
    # A network knows no people, so here everybody has one operation and nobody follows another for their sake.
    laid = {
        number: replace(one, slot=replace(one.slot, people=(number,)) if one.slot else None)
        for number, one in lay_out(graph, hours).items()
    }
    starts = latest_starts(graph, hours, laid, {0: document.now + length})
    lasts = {node.number: node.left for node in graph.nodes}
    return {
        graph.nodes[number].key: (start - document.now, start - document.now + lasts[number])
        for number, start in starts.items()
    }


def starts_of(times: Times, activity: Json) -> list[int]:
    """When an activity, which is done in one piece, would have to start for each part of it to lie where it does."""
    key, minutes, found = activity["id"], activity["duration"] * HOUR, []
    for part, end in ((f"{key}.first", 1), (key, minutes - (f"{key}.last" in times)), (f"{key}.last", minutes)):
        if part in times:
            found.append(times[part][1] - end)
    return found


def free_float(activity: Json, network: Json, times: dict[str, tuple[int, int]]) -> int:
    """How long it may be put off with nothing else moving: the least room that its links leave, or the end."""
    start, end = times[activity["id"]]
    room = {
        "FS": lambda link: times[link["succ"]][0] - link["lag"] - end,
        "SS": lambda link: times[link["succ"]][0] - link["lag"] - start,
        "FF": lambda link: times[link["succ"]][1] - link["lag"] - end,
    }
    links = [link for link in network["relations"] if link["pred"] == activity["id"]]
    return min([room[link["type"]](link) for link in links] or [network["project_length"] - end])


def test_all_published_networks_are_here() -> None:
    assert len(NETWORKS) == 6


@pytest.mark.parametrize("network", NETWORKS)
def test_early_and_late_times_and_floats_are_the_published_ones(network: dict[str, Any]) -> None:
    document = as_shop(network)
    first, length = early(document), network["project_length"]
    last = late(read(document), length * HOUR)
    starts = {one["id"]: max(starts_of(first, one)) // HOUR for one in network["activities"]}
    latest = {one["id"]: -(-min(starts_of(last, one)) // HOUR) for one in network["activities"]}
    times = {one["id"]: (starts[one["id"]], starts[one["id"]] + one["duration"]) for one in network["activities"]}
    for one in network["activities"]:
        key, may_end = one["id"], latest[one["id"]] + one["duration"]
        assert (*times[key], latest[key], may_end) == (one["ES"], one["EF"], one["LS"], one["LF"]), key
        floats = latest[key] - starts[key], free_float(one, network, times)
        assert floats == (one["total_float"], one["free_float"]), key
    assert max(end for _, end in times.values()) == length
    assert sorted(key for key in starts if starts[key] == latest[key]) == sorted(network["critical"])


def invented(seed: int) -> Document:
    """A random network as one build in a shop that never shuts."""
    random = Random(seed)
    operations: list[Operation] = []
    for number in range(random.randint(2, 14)):
        before = random.sample(operations, min(len(operations), random.choice([0, 1, 1, 2, 3])))
        links = tuple(After(one.key, lag=random.choice([0, 0, 30, 1000])) for one in before)
        operations.append(Operation(f"o{number}", "assemble", random.randint(1, 600), after=links, split=False))
    makers = tuple(Maker(f"maker {number}") for number in range(len(operations)))
    place = Shop("UTC", (Opening(EVERY_DAY, 0, 1440),), makers=makers)
    return Document(29_500_000, place, builds=(Build("Network", tuple(operations)),))


def longest(document: Document) -> tuple[dict[str, int], dict[str, int], int]:
    """Early starts, late starts and the length by networkx: longest ways are shortest ones of negative length."""
    ways = nx.DiGraph()
    for one in document.builds[0].operations:
        ways.add_edge("begin", one.key, weight=0)
        ways.add_edge(one.key, "end", weight=-one.minutes)
        minutes = {other.key: other.minutes for other in document.builds[0].operations}
        for link in one.after:
            ways.add_edge(link.operation, one.key, weight=-minutes[link.operation] - link.lag)
    from_begin = nx.single_source_bellman_ford_path_length(ways, "begin")
    to_end = nx.single_source_bellman_ford_path_length(ways.reverse(), "end")
    length = -from_begin["end"]
    keys = [one.key for one in document.builds[0].operations]
    return {key: -from_begin[key] for key in keys}, {key: length + to_end[key] for key in keys}, length


def test_networkx_finds_the_same_times_in_500_random_networks() -> None:
    for seed in range(500):
        document = invented(seed)
        graph, hours = Graph(document), Hours(document.shop)
        starts, latest, length = longest(document)
        laid = lay_out(graph, hours)
        assert {graph.nodes[n].key: (one.start or 0) - document.now for n, one in laid.items()} == starts, seed
        assert {key: start for key, (start, _) in late(document, length).items()} == latest, seed
