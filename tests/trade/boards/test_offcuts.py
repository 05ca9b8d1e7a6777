from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.boards.lumber import LumberError
from webapp.trade.boards.offcuts import Charged, by_use, first_pays


def test_a_sheet_for_two_builds_by_either_habit() -> None:
    """TA24: 96.00, of which the first takes 60 %; common practice, no source."""
    assert first_pays(9600, 1) == Charged((9600,), 0)
    assert first_pays(9600, 2) == Charged((9600, 0), 0)
    assert by_use(9600, [60]) == Charged((5760,), 3840)
    assert by_use(9600, [60, 40]) == Charged((5760, 3840), 0)


def test_before_anybody_took_of_it_all_is_on_the_shelf() -> None:
    assert first_pays(9600, 0) == by_use(9600, []) == Charged((), 9600)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(LumberError, match="More than the whole"):
        by_use(9600, [60, 41])
    for price, percents in ((-1, [10]), (9600, [-1])):
        with pytest.raises(LumberError, match="less than 0"):
            by_use(price, percents)
    for price, builds in ((-1, 1), (9600, -1)):
        with pytest.raises(LumberError, match="less than 0"):
            first_pays(price, builds)


@settings(max_examples=60)
@given(st.integers(0, 10**7), st.lists(st.decimals(0, 100, places=2), max_size=8))
def test_the_sum_is_the_price_and_a_closed_cost_stays(price: int, percents: list[Decimal]) -> None:
    """TA24: over all builds and the shelf, after each use; a later use changes no earlier line."""
    taken: list[Decimal] = []
    for percent in percents:
        if sum(taken) + percent > 100:
            continue
        before, taken = by_use(price, taken), [*taken, percent]
        after = by_use(price, taken)
        assert sum(after.builds) + after.shelf == price
        assert after.builds[:-1] == before.builds
        assert min(after.builds) >= 0
        assert after.shelf >= 0
