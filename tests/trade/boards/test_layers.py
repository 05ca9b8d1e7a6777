from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.boards.dressed import HARDWOOD
from webapp.trade.boards.layers import layers
from webapp.trade.boards.lumber import INCH, LumberError
from webapp.trade.lengths import read

LEG = read("3 1/2", "in").nanometres


def taken(quarters: int) -> int:
    return HARDWOOD[quarters].rough - HARDWOOD[quarters].s2s


def test_4_4_makes_a_leg_from_five_layers_not_four() -> None:
    """Source: surfaced thicknesses of the trade rule (read); the rest is arithmetic. 3 1/2 over 13/16 is 4.3."""
    found = layers(LEG, INCH, taken(4))
    assert (found.count, found.glue_lines, found.net) == (5, 4, read("13/16", "in").nanometres)
    assert found.over == read("9/16", "in").nanometres
    assert found.each == read("7/10", "in").nanometres
    assert layers(LEG, INCH, 0).count == 4


def test_8_4_is_just_enough_unless_the_whole_is_planed_again() -> None:
    """Source: as above. Two of 1 3/4 in are 3 1/2; squaring up the leg afterwards asks for a third."""
    found = layers(LEG, 2 * INCH, taken(8))
    assert (found.count, found.over, found.each) == (2, 0, found.net)
    assert layers(LEG, 2 * INCH, taken(8), taken_after=INCH // 16).count == 3


def test_one_layer_is_enough_where_the_board_is_thick_enough() -> None:
    found = layers(INCH, 2 * INCH, taken(8))
    assert (found.count, found.glue_lines, found.each) == (1, 0, INCH)


@pytest.mark.parametrize(
    ("thickness", "stock", "taken_each", "after", "says"),
    [
        (0, INCH, 0, 0, "over 0"),
        (INCH, 0, 0, 0, "over 0"),
        (INCH, INCH, -1, 0, "cannot be less than 0"),
        (INCH, INCH, 0, -1, "cannot be less than 0"),
        (INCH, INCH, INCH, 0, "takes all of the stock"),
    ],
)
def test_what_cannot_be_laminated_is_refused(
    thickness: int, stock: int, taken_each: int, after: int, says: str
) -> None:
    with pytest.raises(LumberError, match=says):
        layers(thickness, stock, taken_each, taken_after=after)


@settings(max_examples=60)
@given(st.integers(1, 10**9), st.integers(1, 10**8), st.integers(0, 10**7), st.integers(0, 10**7))
def test_the_layers_are_enough_and_one_fewer_is_not(thickness: int, stock: int, took: int, after: int) -> None:
    if took >= stock:
        return
    found = layers(thickness, stock, took, taken_after=after)
    assert found.count * found.net >= thickness + after > (found.count - 1) * found.net
    assert found.count * found.each == thickness + after
    assert found.over == Fraction(found.count) * (found.net - found.each)
