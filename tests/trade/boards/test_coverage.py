from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.boards.coverage import LOST_BRUSHING, LOST_SPRAYING, CoverageError, needed
from webapp.trade.units import Number, convert


def test_three_coats_by_brush_and_by_gun() -> None:
    """TA26: 64 sq ft at 400 sq ft per gallon and coat: 0.48 gal brushed, 0.96 sprayed with half lost."""
    assert needed(64, 400, 3, lost=LOST_BRUSHING) == Fraction(48, 100)
    assert needed(64, 400, 3, lost=50) == Fraction(96, 100)
    assert LOST_SPRAYING == (35, 75)


def test_a_first_coat_on_bare_wood_takes_more() -> None:
    """TA26: editable; here half as much again."""
    assert needed(64, 400, 3, first_coat=Fraction(3, 2)) == Fraction(56, 100)


def test_it_is_the_same_in_litres() -> None:
    litres = needed(convert(64, "sq ft", "m²"), convert(400, "sq ft", "m²") / convert(1, "gal", "l"), 3)
    assert litres == convert(Fraction(48, 100), "gal", "l")


@pytest.mark.parametrize(
    ("area", "covers", "coats", "lost", "first", "says"),
    [
        (0, 400, 3, 0, 1, "over 0"),
        (64, 0, 3, 0, 1, "over 0"),
        (64, 400, 0, 0, 1, "one coat or more"),
        (64, 400, 3, 0, Fraction(1, 2), "first coat"),
        (64, 400, 3, 100, 1, "less than 100 %"),
        (64, 400, 3, -1, 1, "less than 100 %"),
    ],
)
def test_what_cannot_be_is_refused(area: int, covers: int, coats: int, lost: int, first: Number, says: str) -> None:
    with pytest.raises(CoverageError, match=says):
        needed(area, covers, coats, lost=lost, first_coat=first)


@settings(max_examples=50)
@given(st.integers(1, 10**6), st.integers(1, 10**4), st.integers(1, 12), st.integers(0, 99))
def test_what_reaches_the_work_covers_it(area: int, covers: int, coats: int, lost: int) -> None:
    used = needed(area, covers, coats, lost=lost)
    assert used * (100 - lost) / 100 * covers == area * coats
