"""Nothing of a plan can begin a minute earlier, or the checker finds what is wrong with that."""

from datetime import datetime
from typing import Any

import pytest

from tests.planning.checked_plan import checked_plan
from tests.planning.checker import dawdles, violations
from tests.planning.checker_sketch import sketched
from tests.planning.checking.facts import Facts
from tests.planning.checking.times import Json, Span
from tests.planning.checking.works import Work
from tests.planning.invent_things import document


def laid(plan: Json) -> dict[str, dict[str, Any]]:
    """Spans, people and flags of a plan, as a sketch takes them."""
    found: dict[str, dict[str, Any]] = {"spans": {}, "people": {}, "flags": {}}
    for build in plan["builds"]:
        for one in build["operations"]:
            path = f"{build['name']}.{one['key']}"
            found["flags"][path] = sorted({flag["flag"] for flag in one["flags"]})
            if one["spans"]:
                found["spans"][path], found["people"][path] = one["spans"], one["people"]
    return found


def earlier(facts: Facts, work: Work, minute: int) -> dict[str, list[Span]] | None:
    """Work begun at a minute, with what is put in before it; None where its people are not in then."""
    name = facts.builds[work.build].source["name"]
    if work.is_split and not work.before:
        run = facts.hours.of(work.people).run(minute, work.minutes)
        return None if run is None else {f"{name}.{work.key}": run}
    by = work.begins - minute
    return {f"{name}.{one.key}": [(start - by, end - by) for start, end in one.spans] for one in [work, *work.before]}


@pytest.mark.parametrize("seed", [50, 54, 61])
def test_what_begins_a_minute_earlier_breaks_a_rule(seed: int) -> None:
    source = document(seed)
    plan = checked_plan(source)
    facts, spans = Facts(source, plan), laid(plan)
    starts: dict[str, str | None] = dict.fromkeys(spans["flags"])
    idle = {said.split(" could ")[0] for said in dawdles(source, plan)}
    tried = 0
    for work in facts.works:
        minute = facts.hours.of([]).last_before(work.begins) if work.is_free else None
        is_kept = not work.flags & {"window-missed", "longer-than-shop-hours"} and work.path not in idle
        moved = None if minute is None or minute < facts.now or not is_kept else earlier(facts, work, minute)
        if moved is not None:
            texts = {path: [[text(facts, at) for at in span] for span in found] for path, found in moved.items()}
            sketch = sketched(source, starts, **spans | {"spans": spans["spans"] | texts})
            found = violations(source, sketch, without=["reasons"])
            assert [said for said in found if "how many parts" not in said], work.path
            tried += 1
    assert tried > 3


def text(facts: Facts, at: int) -> str:
    return datetime.fromtimestamp(at * 60, facts.zone).isoformat()
