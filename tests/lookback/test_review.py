"""Plan against real, by itself."""

from datetime import date

import pytest

from webapp.lookback.review import Review, Step, bars, beside, usual_factor


def step(name: str, estimated: int, worked: int, *, done: bool = True) -> Step:
    return Step(name, name, "", estimated, worked, done)


def test_a_hundred_hours_that_took_237_are_a_factor_of_2_37() -> None:
    """TA28: on the beginner's own estimate; on the expert's 40 h it is 5.93."""
    assert Review((step("all", 6000, 14220),), None, None).factor == pytest.approx(2.37)
    assert Review((step("all", 2400, 14220),), None, None).factor == pytest.approx(5.925)


def test_what_is_not_done_does_not_enter_the_factor() -> None:
    review = Review((step("mill", 60, 90), step("sand", 60, 10, done=False)), None, None)
    assert review.factor == 1.5
    assert review.worked == 100


def test_days_count_both_ends() -> None:
    assert Review((), date(2026, 2, 2), date(2026, 2, 2)).days == 1
    assert Review((), date(2026, 2, 2), date(2026, 2, 9)).days == 8
    assert Review((), None, None).days is None


def test_bars_share_one_scale() -> None:
    found = bars([step("mill", 60, 120), step("sand", 30, 0)])
    assert [(bar.estimated_width, bar.worked_width) for bar in found] == [(500, 1000), (250, 0)]


def test_two_builds_stand_side_by_side_with_every_kind_of_either() -> None:
    left, right = Review((step("mill", 1, 60),), None, None), Review((step("turn", 1, 30),), None, None)
    assert beside(left, right) == [("mill", 60, 0), ("turn", 0, 30)]


def test_the_usual_factor_is_the_middle_one() -> None:
    assert usual_factor([1.1, 9.0, 1.3]) == 1.3
    assert usual_factor([]) is None
