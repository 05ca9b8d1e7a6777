"""Invented shops: whatever the document, the plan keeps the rules."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.checker import broken, minute
from tests.planning.invent import Json, document
from webapp.planning.document import answer

SEEDS = st.integers(min_value=1000, max_value=10**9)


def plan_of(source: Json) -> Json:
    status, out, err = answer(json.dumps(source))
    assert (status, err) == (0, "")
    plan: Json = json.loads(out)
    return plan


@pytest.mark.parametrize("pins", [False, True], ids=["free", "pinned"])
@pytest.mark.parametrize("seed", range(40))
def test_every_plan_keeps_the_rules(seed: int, pins: bool) -> None:
    source = document(seed, pins=pins)
    assert broken(source, plan_of(source)) == []


@settings(max_examples=40, deadline=None, derandomize=True)
@given(seed=SEEDS)
def test_every_start_has_a_cause_and_may_be_put_off_but_never_brought_forward(seed: int) -> None:
    """In the given order, each as early as it can, nothing starts late for no reason."""
    for build in plan_of(document(seed))["builds"]:
        for operation in build["operations"]:
            assert (operation["because"] or {}).get("why") != "plan", operation
            if operation["latest_start"] is not None:
                assert (minute(operation["latest_start"]) or 0) >= (minute(operation["start"]) or 0)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(seed=SEEDS)
def test_one_build_alone_is_never_later_than_among_others(seed: int) -> None:
    """The first build of the list takes what it wants, so the others make no difference to it."""
    source = document(seed)
    alone = {**source, "builds": source["builds"][:1]}
    running = any(
        "started" in one and "finished" not in one and not one.get("paused")
        for build in source["builds"][1:]
        for one in build["operations"]
    )
    tended = any(
        one.get("product") == "oil" and "finished" in one for b in source["builds"][1:] for one in b["operations"]
    )
    if not running and not tended:
        assert plan_of(source)["builds"][0]["finish"] == plan_of(alone)["builds"][0]["finish"]
