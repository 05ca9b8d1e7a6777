from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.boards.lumber import LumberError
from webapp.trade.boards.waste import MEANING, USUAL, USUAL_ROUGH, as_added, from_added, gross, net, wasted


def test_30_percent_waste_of_what_is_bought() -> None:
    """TA22: 100 net need 142.86; adding 30 % buys 130, which is 23 % waste and comes up 9 short."""
    assert round(gross(100, 30), 2) == Fraction(Decimal("142.86"))
    assert net(gross(100, 30), 30) == 100
    assert net(130, 30) == 91
    assert round(wasted(130, 100), 1) == Fraction(Decimal("23.1"))
    assert wasted(130, 100) == from_added(30)
    assert gross(100, from_added(30)) == 130
    assert round(as_added(30), 2) == Fraction(Decimal("42.86"))


def test_which_meaning_it_is_stands_in_words_and_the_usual_range_is_there() -> None:
    """TA22: 20 to 40 %, rough stock 30 to 40 (read)."""
    assert MEANING == "waste as a share of what is bought"
    assert (USUAL, USUAL_ROUGH) == ((20, 40), (30, 40))


@pytest.mark.parametrize("waste", [100, Decimal("100.1"), -1])
def test_a_waste_of_all_or_less_than_nothing_is_refused(waste: int | Decimal) -> None:
    """TA22: not divided by zero."""
    for reckon in (gross, net):
        with pytest.raises(LumberError, match="less than 100 %"):
            reckon(100, waste)
    with pytest.raises(LumberError, match="less than 100 %"):
        as_added(waste)


def test_less_than_nothing_of_wood_is_refused() -> None:
    for reckon in (gross, net):
        with pytest.raises(LumberError, match="less than 0"):
            reckon(-1, 30)
    with pytest.raises(LumberError, match="less than 0"):
        from_added(-1)
    for bought, used in ((0, 0), (10, 11)):
        with pytest.raises(LumberError, match="Look at both amounts again"):
            wasted(bought, used)


@settings(max_examples=60)
@given(st.decimals(0, 10**6, places=4), st.decimals(0, Decimal("99.99"), places=2))
def test_gross_minus_waste_is_net(needed: Decimal, waste: Decimal) -> None:
    """TA22: exact, for any share."""
    bought = gross(needed, waste)
    assert bought - bought * Fraction(waste) / 100 == Fraction(needed)
    assert net(bought, waste) == Fraction(needed)
    assert bought >= Fraction(needed) * (1 + Fraction(waste) / 100)
    assert from_added(as_added(waste)) == Fraction(waste)
    if needed:
        assert wasted(bought, needed) == Fraction(waste)
