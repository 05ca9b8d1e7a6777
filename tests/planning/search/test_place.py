"""Laying out and pushing together: every plan is allowed, none gets longer, every pass is counted."""

import pytest
from hypothesis import given, settings, strategies

from tests.planning.search.checked import projects, violations_of
from webapp.planning.chance import Chance
from webapp.planning.search import Budget, Link, Placing, Project
from webapp.planning.search.orders import sampled


@settings(max_examples=60)
@given(projects(), strategies.integers(0, 1), strategies.integers(0, 9))
def test_every_plan_is_allowed_and_pushing_makes_none_longer(project: Project, side: int, seed: int) -> None:
    placing = Placing(project, Budget(6))
    found = placing.place(sampled(placing.before[side], placing.urgency[side], 1, Chance(seed)), side)
    for _ in range(5):
        assert not violations_of(project, placing.starts(found))
        pushed = placing.shift(found)
        assert pushed.side == 1 - found.side
        assert placing.least <= pushed.cost <= found.cost
        found = pushed
    assert placing.budget.left == 0
    assert placing.shift(found) is found


@settings(max_examples=60)
@given(projects(), strategies.integers(0, 9))
def test_each_activity_starts_as_early_as_the_list_allows(project: Project, seed: int) -> None:
    """Against the plainest way to lay out a list: try every unit of time, from the first on, and check all of it."""
    placing = Placing(project, Budget(1))
    order = sampled(placing.before[0], placing.urgency[0], 1, Chance(seed))
    starts = placing.starts(placing.place(order, 0))
    for place, number in enumerate(order):
        laid = order[: place + 1]
        part = Project(
            tuple(d if n in laid else 0 for n, d in enumerate(project.durations)),
            tuple(row if n in laid else (0,) * len(row) for n, row in enumerate(project.demands)),
            project.capacities,
            tuple(link for link in project.links if {link.earlier, link.later} <= set(laid)),
        )
        tried = list(starts)
        allowed = []
        for unit in range(starts[number] + 1):
            tried[number] = unit
            allowed += [] if violations_of(part, tried) else [unit]
        assert allowed == [starts[number]]


def test_resources_do_not_spill_into_each_other() -> None:
    """Three of the second resource are not one of the first, however they are packed."""
    project = Project((1,) * 4, ((0, 3), (0, 3), (1, 0), (1, 0)), (1, 3), ())
    placing = Placing(project, Budget(1))
    assert placing.starts(placing.place([0, 1, 2, 3], 0)) == (0, 1, 0, 1)


def test_a_wait_counts_from_the_end_and_from_either_side() -> None:
    project = Project((2, 1), ((), ()), (), (Link(0, 1, wait=5),))
    placing = Placing(project, Budget(2))
    assert placing.starts(placing.place([0, 1], 0)) == (0, 7)
    assert placing.starts(placing.place([1, 0], 1)) == (0, 7)


def test_nobody_makes_a_pass_that_is_not_there() -> None:
    placing = Placing(Project((2,), ((),), (), ()), Budget(0))
    with pytest.raises(ValueError, match="The budget of 0 passes is used up"):
        placing.place([0], 0)


def test_a_budget_ends_when_somebody_says_so() -> None:
    assert Budget(5, is_enough=lambda: True).left == 0
