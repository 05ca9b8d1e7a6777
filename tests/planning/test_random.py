"""Invented shops: whatever the document, the plan keeps the rules."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.checked_plan import checked_plan
from tests.planning.checker import dawdles
from tests.planning.checking.times import Json
from tests.planning.invent import document
from tests.planning.invent_things import document as with_things

SEEDS = st.integers(min_value=1000, max_value=10**9)


@pytest.mark.parametrize("pins", [False, True], ids=["free", "pinned"])
@pytest.mark.parametrize("seed", range(40))
def test_every_plan_keeps_the_rules(seed: int, pins: bool) -> None:
    source = document(seed, pins=pins)
    assert checked_plan(source)


@pytest.mark.parametrize("seed", range(50, 90))
def test_every_plan_with_clamps_and_dust_and_what_must_follow_keeps_the_rules(seed: int) -> None:
    source = with_things(seed)
    assert checked_plan(source)


def told(plan: Json) -> set[str]:
    """The paths of the operations of which the plan says that nothing kept them."""
    return {
        f'builds[{number}].operations[{place}] "{one["key"]}"'
        for number, build in enumerate(plan["builds"])
        for place, one in enumerate(build["operations"])
        if one["because"] is not None and one["because"]["why"] == "plan"
    }


@settings(max_examples=40, deadline=None, derandomize=True)
@given(seed=SEEDS)
def test_what_could_start_earlier_says_so_and_nothing_else_does(seed: int) -> None:
    source = document(seed)
    plan = checked_plan(source)
    assert {said.split(" could ")[0] for said in dawdles(source, plan)} == told(plan)


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
        assert checked_plan(source)["builds"][0]["finish"] == checked_plan(alone)["builds"][0]["finish"]
