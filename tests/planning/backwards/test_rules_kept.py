"""Invented shops laid backwards: as a plan of its own, made long before, each keeps every rule there is."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.planning import invent, invent_things
from tests.planning.checker import violations
from tests.planning.shop import Json
from webapp.planning.backwards.laying import lay_backwards
from webapp.planning.document import read
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.instants import moment
from webapp.planning.laid import Laid, windows
from webapp.planning.place import lay_out
from webapp.planning.plan import _Report
from webapp.planning.printing import write

BEGUN = ("started", "worked_minutes", "paused", "finished", "abandoned", "again_for", "count", "done")


def untouched(source: Json) -> Json:
    """A document with nothing begun, all builds with a date that can be kept."""
    for build in source["builds"]:
        build |= {"due": build.get("due", "2026-06-20")}
        build.pop("not_before", None)
        build["operations"] = [
            {key: value for key, value in one.items() if key not in BEGUN} for one in build["operations"]
        ]
    return source


def in_windows(graph: Graph, laid: dict[int, Laid]) -> dict[int, Laid]:
    """The same, each layer with the window that it lies in."""
    for number, one in laid.items():
        allowed = windows(graph.nodes[number], laid, graph)
        begin, end = one.from_ or 0, one.end or 0
        inside = (w for w in allowed if w.begin <= begin and (w.end is None or end <= w.end) and not one.missed)
        laid[number] = replace(one, window=next(inside, next(iter(allowed), None)))
    return laid


@pytest.mark.parametrize("make", [invent.document, invent_things.document], ids=["plain", "things"])
def test_what_is_laid_backwards_keeps_the_rules(make: Callable[[int], Json]) -> None:
    found = asked = 0
    for seed in range(300, 315):
        source = untouched(make(seed))
        document = read(source)
        graph = Graph(document)
        back = lay_backwards(graph, lay_out(graph, Hours(document.shop)))
        kept = sorted({graph.nodes[number].build for number in back})
        asked, found = asked + len(graph.builds), found + len(kept)
        if back:
            first = min(one.from_ or 0 for one in back.values())
            early = {**source, "builds": [source["builds"][number] for number in kept]}
            early["now"] = moment(min(first, document.now)).isoformat()
            again = Graph(read(early))
            laid = in_windows(again, dict(enumerate(back[number] for number in sorted(back))))
            plan = write(again.document, _Report(again, Hours(again.document.shop), laid).plan())
            assert violations(early, plan, without=["reasons"]) == [], seed
    assert found > 0.7 * asked  # in the others something misses its window or is too cold in the plan too
