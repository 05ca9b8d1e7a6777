"""Our search on small shops against what a general solver proved best (`tests/speed/shops.py --small 200 --write`)."""

from tests.speed import shop_instances
from tests.speed.shops import Case, kept

SHOPS, SCHEDULES = range(1, 9), 300


def test_most_small_shops_are_planned_best_and_none_better_than_was_proved() -> None:
    optimal = 0
    for seed in SHOPS:
        source = shop_instances.small(seed)
        case = Case(source)
        our, best = case.judged_laid(case.by_schedules(SCHEDULES)), kept(seed, source)
        assert our >= best, f"small shop {seed}: {our} is better than {best}, which was proved best"
        optimal += our == best
    assert optimal >= 6
