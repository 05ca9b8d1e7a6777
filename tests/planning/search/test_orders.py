"""Lists: whatever is made of them, they hold every item once and none before what it waits for."""

from hypothesis import given, settings, strategies

from tests.planning.search.checked import projects
from webapp.planning.chance import Chance
from webapp.planning.search import Budget, Placing, Project
from webapp.planning.search.orders import densest, mixed, ranked, sampled, shaken, swapped


@settings(max_examples=60)
@given(projects(most=12), strategies.integers(0, 1), strategies.integers(0, 99), strategies.data())
def test_no_list_puts_an_item_before_what_it_waits_for(
    project: Project, side: int, seed: int, data: strategies.DataObject
) -> None:
    placing, chance = Placing(project, Budget(9)), Chance(seed)
    before = placing.before[side]
    lists = [ranked(before, placing.urgency[side])]
    lists += [sampled(before, placing.urgency[side], 1, chance) for _ in range(2)]
    found = placing.place(lists[1], side)
    lists += [found.lists[side], placing.shift(found).lists[side]]
    begin = data.draw(strategies.integers(0, len(before)))
    end = data.draw(strategies.integers(begin, len(before)))
    lists.append(mixed(lists[1], lists[4], lists[2], begin, end))
    lists.append(shaken(lists[2], before, begin, end, chance))
    lists.append(swapped(lists[3], before, 0.5, chance))
    for order in lists:
        assert sorted(order) == list(range(len(before)))
        assert not [item for place, item in enumerate(order) if not set(before[item]) <= set(order[:place])]


@settings(max_examples=60)
@given(projects())
def test_the_list_of_a_plan_leads_to_the_plan_again(project: Project) -> None:
    placing = Placing(project, Budget(3))
    found = placing.shift(placing.place(list(project.topological), 0))
    assert placing.place(found.lists[1], 1).starts == found.starts


def test_a_child_keeps_a_stretch_and_follows_others_around_it() -> None:
    assert mixed([0, 1, 2, 3, 4, 5], [5, 4, 3, 2, 1, 0], [0, 2, 4, 5, 1, 3], 2, 4) == [1, 0, 2, 3, 4, 5]


def test_more_urgent_items_come_first_more_often() -> None:
    chance = Chance(5)
    first = [sampled([[], [], []], [0, 5, 10], 1, chance)[0] for _ in range(600)]
    assert first.count(0) > first.count(1) > first.count(2) > 20


def test_the_densest_stretch_is_found_by_trying_often_enough() -> None:
    assert densest([1, 1, 5, 5, 1, 1], [0, 9, 18, 19, 30, 39], 2, 40, Chance(1)) == 2


def test_neighbours_that_wait_for_each_other_stay() -> None:
    chain = [[], [0], [1], [2]]
    assert all(swapped([0, 1, 2, 3], chain, 0.9, Chance(seed)) == [0, 1, 2, 3] for seed in range(20))
    assert any(swapped([0, 1, 2, 3], [[]] * 4, 0.9, Chance(seed)) != [0, 1, 2, 3] for seed in range(20))
