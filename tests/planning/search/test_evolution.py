"""The search: the budget to the pass, the same each time, never worse than what it got, the best of few."""

from itertools import permutations

import pytest
from hypothesis import given, settings, strategies

from tests.planning.search.checked import projects, violations_of
from webapp.planning.chance import Chance
from webapp.planning.search import Budget, Found, Placing, Project, evolve
from webapp.planning.search.orders import sampled


def searched(project: Project, passes: int, seed: int = 1) -> tuple[Placing, Found]:
    placing = Placing(project, Budget(passes))
    return placing, evolve(placing, placing.budget, seed)


def hard(seed: int, count: int = 40) -> Project:
    """Much of everything is asked for, so that the longest path says little and nothing is proved."""
    chance = Chance(seed)
    demands = tuple((chance.below(9) + 1, chance.below(9) + 1) for _ in range(count))
    return Project(tuple(chance.below(9) + 1 for _ in range(count)), demands, (12, 12), ())


@settings(max_examples=40)
@given(projects(), strategies.integers(1, 60), strategies.integers(0, 3))
def test_what_is_found_is_allowed_and_paid_for(project: Project, passes: int, seed: int) -> None:
    placing, found = searched(project, passes, seed)
    assert not violations_of(project, placing.starts(found))
    assert placing.least <= found.cost
    assert 1 <= placing.budget.spent <= passes


@settings(max_examples=40)
@given(projects(most=6))
def test_of_few_activities_the_best_order_is_found(project: Project) -> None:
    placing = Placing(project, Budget(1000))
    count = len(project.durations)
    orders = [
        o for o in permutations(range(count)) if all(set(placing.before[0][n]) <= set(o[:i]) for i, n in enumerate(o))
    ]
    best = min(placing.place(list(order), 0).cost for order in orders)
    assert searched(project, 400)[1].cost == best


@settings(max_examples=40)
@given(projects(), strategies.integers(1, 30), strategies.integers(0, 9))
def test_it_never_returns_worse_than_it_got(project: Project, passes: int, seed: int) -> None:
    placing = Placing(project, Budget(passes + 1))
    order = sampled(placing.before[0], placing.urgency[0], 1, Chance(seed))
    first = placing.place(order, 0)
    assert evolve(placing, placing.budget, given=order).cost <= first.cost


@pytest.mark.parametrize("passes", [1, 2, 3, 50, 51, 52, 401])
def test_a_budget_is_used_up_to_the_pass(passes: int) -> None:
    assert searched(hard(1), passes)[0].budget.spent == passes


def test_the_same_seed_finds_the_same_and_another_goes_elsewhere() -> None:
    first, again, other = (searched(hard(1), 200, seed)[1] for seed in (1, 1, 2))
    assert first == again
    assert first.starts != other.starts


def test_more_passes_find_more() -> None:
    few, many = ([searched(hard(seed), passes)[1].cost[0] for seed in range(5)] for passes in (10, 600))
    assert sum(many) < sum(few)
    assert all(one <= other for one, other in zip(many, few, strict=True))


def test_it_ends_where_nothing_can_be_better() -> None:
    placing, found = searched(Project((3, 4), ((), ()), (), ()), 1000)
    assert (found.cost, placing.budget.spent) == ((4,), 1)


def test_it_ends_when_somebody_says_so() -> None:
    asked = []
    budget = Budget(1000, is_enough=lambda: len(asked) > 30 or asked.append(1) is not None)
    evolve(Placing(hard(1), budget), budget)
    assert 1 <= budget.spent <= 31


class FromTheFront(Placing):
    """A problem that can be laid from the front only, as a shop with hours is; pushed there and back."""

    sides = 1

    def shift(self, found: Found) -> Found:
        if self.budget.left < 2:
            return found
        return super().shift(super().shift(found))


def test_a_problem_of_one_side_is_searched_as_well() -> None:
    placing = FromTheFront(hard(2), Budget(300))
    found = evolve(placing, placing.budget)
    assert found.side == 0
    assert 299 <= placing.budget.spent <= 300
    assert not violations_of(placing.project, placing.starts(found))
    assert found.cost < searched(hard(2), 1)[1].cost
