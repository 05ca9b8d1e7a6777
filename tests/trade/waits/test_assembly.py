"""Open and closed assembly time, and into how many parts a glue-up has to be split."""

import pytest

from webapp.trade.air.pace import Pace
from webapp.trade.waits.assembly import Assembly, assembly

PVA = Pace(rated_at=(70 - 32) / 1.8, doubles_per=15 / 1.8)


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(("open_minutes", "parts", "spare"), [(10, 2, -8), (15, 2, -3), (20, 1, 2)])
def test_eighteen_minutes_of_assembly_want_a_glue_that_stays_open(open_minutes: int, parts: int, spare: int) -> None:
    """TA04: yellow PVA 10 min, waterproof 15, white PVA or liquid hide 20: figures of a trade magazine."""
    given = assembly(open_minutes, PVA, celsius(70))
    assert (given.parts(18), given.spare(18)) == (parts, spare)


@pytest.mark.parametrize(("fahrenheit", "minutes"), [(55, 20), (70, 20), (85, 10), (100, 5)])
def test_open_time_shortens_with_warmth_and_never_lengthens(fahrenheit: float, minutes: float) -> None:
    """TA04: the waits' own rule; common practice, no source."""
    assert assembly(20, PVA, celsius(fahrenheit)).open == pytest.approx(minutes)


def test_open_and_closed_time_are_kept_apart_and_shorten_alike() -> None:
    """Closed time: common practice, no source."""
    warm = assembly(20, PVA, celsius(85), closed=8)
    assert (warm.open, warm.closed) == (pytest.approx(10), pytest.approx(4))
    assert assembly(20, PVA, celsius(85)).closed is None


def test_without_a_rule_or_a_temperature_the_label_holds() -> None:
    assert assembly(20, Pace(rated_at=21.0), 35.0).open == 20
    assert assembly(20, PVA, None).open == 20


@pytest.mark.parametrize(("minutes", "parts"), [(0, 1), (10, 1), (10 + 0.9 / 60, 1), (10.1, 2), (20, 2), (31, 4)])
def test_parts_are_the_one_over_the_other_rounded_up(minutes: float, parts: int) -> None:
    assert Assembly(open=10).parts(minutes) == parts


def test_half_the_open_time_is_enough_although_degrees_are_binary_fractions() -> None:
    assert assembly(20, PVA, celsius(85)).parts(10) == 1
