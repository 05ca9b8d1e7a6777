"""The arithmetic of a cost sheet, by itself."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.costs.sheet import (
    Day,
    Labour,
    PriceError,
    Sheet,
    consumables,
    labour,
    parts,
    price_for_margin,
    price_for_mark_up,
    rate_on,
)
from webapp.planning.timesheet import Line
from webapp.trade.money import half_up, share_out

FEB2, FEB3 = date(2026, 2, 2), date(2026, 2, 3)
FOUR = [(Decimal(share), None) for share in (10, 40, 25, 25)]


def line(maker: int, day: date, minutes: int, *, asked: bool = False) -> Line:
    return Line(day, maker, 1, 1, None, False, asked, minutes)


def test_four_payments_add_up_and_the_last_takes_the_rounding() -> None:
    """TA20: source of the shares: a trade page on staged payments."""
    assert parts(840000, FOUR) == [84000, 336000, 210000, 210000]
    assert parts(733333, FOUR) == [73333, 293333, 183333, 183334]


def test_what_was_paid_stays_when_the_price_changes() -> None:
    """TA20: a change of scope; the rest is shared so that the sum is the new price."""
    shares = [(Decimal(10), 84000), (Decimal(40), None), (Decimal(25), None), (Decimal(25), None)]
    assert parts(900000, shares) == [84000, 360000, 225000, 231000]


SHARES = st.lists(st.decimals(0, 100, places=2), min_size=1, max_size=8)
PAID = st.lists(st.one_of(st.none(), st.integers(0, 10**8)), min_size=8, max_size=8)


@given(st.integers(0, 10**9), SHARES, PAID)
def test_payments_always_sum_to_the_price_while_one_is_open(
    price: int, shares: list[Decimal], paid: list[int | None]
) -> None:
    """TA20: whatever was paid and however it rounds."""
    found = parts(price, list(zip(shares, [*paid[: len(shares) - 1], None], strict=True)))
    assert sum(found) == price


@given(st.integers(0, 10**9), st.lists(st.integers(1, 9999), max_size=6, unique=True))
def test_parts_of_a_price_are_those_of_the_trade_floor(price: int, cuts: list[int]) -> None:
    """TA20: with nothing paid, the same as money.share_out; none under 0 even for a price of a cent."""
    edges = [0, *sorted(cuts), 10_000]
    percents = [Decimal(later - earlier) / 100 for earlier, later in pairwise(edges)]
    found = parts(price, [(percent, None) for percent in percents])
    assert found == share_out(price, percents)
    assert min(found) >= 0


def test_with_nothing_open_all_stays_as_it_was_paid() -> None:
    assert parts(500, [(Decimal(50), 100), (Decimal(50), 100)]) == [100, 100]


MINOR = st.integers(0, 10**9)
DAYS = st.builds(Day, st.dates(), st.integers(0, 1440), st.one_of(st.none(), st.integers(0, 10**6)))
SHEETS = st.builds(
    Sheet,
    st.lists(st.tuples(st.text(max_size=5), MINOR), max_size=5).map(tuple),
    st.lists(st.builds(Labour, st.integers(1, 9), st.lists(DAYS, max_size=5).map(tuple)), max_size=3).map(tuple),
    MINOR,
    st.one_of(st.none(), MINOR),
)


@given(SHEETS)
def test_the_lines_add_up_to_the_total(sheet: Sheet) -> None:
    """SA07: what is shown adds up: kinds of material, consumables, each day of each person; price less that is left."""
    days = [half_up(Fraction(d.minutes * (d.rate or 0), 60)) for line in sheet.labour for d in line.days]
    shown = [minor for _, minor in sheet.materials] + [sheet.consumables_minor, *days]
    assert sum(shown) == sheet.total_minor
    assert sheet.left_minor is None or sheet.left_minor + sum(shown) == sheet.price_minor


def test_labour_is_rounded_half_up_for_each_person_and_day() -> None:
    """SA07: 50 minutes at 25.15 are 20.958…; 10 minutes at 25.15 are 4.1916…"""
    people, asked = labour([line(1, FEB2, 50), line(1, FEB3, 10), line(2, FEB3, 5)], {1: [(FEB2, 2515)]})
    assert [(one.maker, one.minutes, one.minor, one.unrated) for one in people] == [
        (1, 60, 2096 + 419, 0),
        (2, 5, 0, 5),
    ]
    assert asked == 0


def test_labour_costs_what_it_cost_that_day() -> None:
    rates = [(date(2026, 1, 1), 4000), (FEB3, 4500)]
    assert [rate_on(rates, day) for day in (date(2025, 12, 31), FEB2, FEB3)] == [None, 4000, 4500]
    assert labour([line(1, FEB2, 60), line(1, FEB3, 60)], {1: rates})[0][0].minor == 8500


def test_a_clock_that_is_asked_about_is_not_charged() -> None:
    """TA27: the night of a forgotten clock is booked only once it is answered for."""
    people, asked = labour([line(1, FEB2, 60), line(1, FEB2, 420, asked=True)], {1: [(FEB2, 6000)]})
    assert people[0].minor == 6000
    assert asked == 420


def test_margin_and_mark_up_are_two_things() -> None:
    """TA21: cost 1,000: a price of 1,388.89 leaves a margin of 28 %, one of 1,280 a mark-up of 28 % and 21.9 %."""
    at_margin = Sheet((("wood", 100000),), (), 0, 138889)
    at_mark_up = Sheet((("wood", 100000),), (), 0, 128000)
    assert at_margin.margin == Decimal("28.0")
    assert (at_mark_up.margin, at_mark_up.mark_up) == (Decimal("21.9"), Decimal("28.0"))


def test_the_price_for_a_margin_is_not_the_price_for_a_mark_up() -> None:
    """TA21: cost 1,000 at 28 %: 1,388.89 by margin, 1,280.00 by mark-up (jlconline.com on markup and margin)."""
    assert price_for_margin(100000, Decimal(28)) == 138889
    assert price_for_mark_up(100000, Decimal(28)) == 128000


@pytest.mark.parametrize("percent", [Decimal(100), Decimal(101), Decimal(-1)])
def test_a_margin_of_all_of_the_price_is_refused(percent: Decimal) -> None:
    """TA21: refused, not divided by zero."""
    with pytest.raises(PriceError, match="less than 100 %"):
        price_for_margin(100000, percent)


def test_earnings_an_hour_leave_the_owners_own_rate_out() -> None:
    sheet = Sheet((("wood", 30000),), (Labour(1, (Day(FEB2, 600, 4500),)),), 1500, 131500)
    assert sheet.earned_an_hour == 10000
    assert sheet.left_minor == 131500 - 76500


def test_without_hours_or_price_nothing_is_earned_an_hour() -> None:
    assert Sheet((), (), 0, 100).earned_an_hour is None
    assert Sheet((), (Labour(1, (Day(FEB2, 60, None),)),)).earned_an_hour is None


@pytest.mark.parametrize(("percent", "minor", "right"), [(Decimal(5), None, 1), (None, 700, 700), (None, None, 0)])
def test_consumables_are_a_share_or_a_sum(percent: Decimal | None, minor: int | None, right: int) -> None:
    """SA07: 5 % of 0.10 is half a cent and becomes one."""
    assert consumables(10, percent, minor) == right


def test_three_lines_of_a_tenth_are_three_tenths() -> None:
    """SA07: not 0.30000000000000004."""
    assert Sheet((("a", 10), ("b", 10), ("c", 10)), ()).total_minor == 30
