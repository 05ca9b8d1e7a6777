from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.money import (
    CURRENCIES,
    MoneyError,
    NumberError,
    exponent,
    half_up,
    read_money,
    share_out,
    show_money,
    times,
    times_minor,
)


def test_the_decimals_of_each_currency_are_those_of_the_list() -> None:
    """Source: ISO 4217 list one, published 2026-01-01 (iso4217_exponents.csv)."""
    assert {row["code"]: int(row["exponent"]) for row in rows("iso4217_exponents.csv")} == CURRENCIES


def test_an_unknown_currency_is_refused() -> None:
    for code in ("XYZ", "usd", "", "XAU"):
        with pytest.raises(MoneyError, match="not a currency code"):
            exponent(code)


@pytest.mark.parametrize(
    ("typed", "currency", "minor"),
    [
        ("12.50", "USD", 1250),
        ("12,50", "EUR", 1250),
        ("12,5", "NOK", 1250),
        ("$12.50", "USD", 1250),
        ("$ 1,234.50", "USD", 123450),
        ("12.50 usd", "USD", 1250),
        ("kr", "NOK", None),
        ("€12,50", "EUR", 1250),
        ("12,50 €", "EUR", 1250),
        ("1 234,50", "NOK", 123450),
        ("1250", "JPY", 1250),
        ("1,250", "JPY", 1250),
        ("1.250", "KWD", 1250),
        ("0", "USD", 0),
        ("0.10", "USD", 10),
    ],
)
def test_amounts_are_read_as_whole_minor_units(typed: str, currency: str, minor: int | None) -> None:
    """SA07: a comma where it can only be a decimal mark, the currency's own sign or none."""
    if minor is None:
        with pytest.raises(NumberError):
            read_money(typed, currency)
    else:
        assert read_money(typed, currency) == minor


@pytest.mark.parametrize(
    ("typed", "currency"),
    [
        ("", "USD"),
        ("$", "USD"),
        ("1.234,56", "EUR"),
        ("1,234", "USD"),
        ("1,234", "KWD"),
        ("1e3", "USD"),
        ("NaN", "USD"),
        ("Infinity", "USD"),
        ("-0", "USD"),
        ("-$5", "USD"),
        ("１２.50", "USD"),
        ("12.505", "USD"),
        ("12.5", "JPY"),
        ("€12.50", "USD"),
        ("12.50 NOK", "USD"),
        ("$$5", "USD"),
        ("9999999999999", "USD"),
    ],
)
def test_what_is_no_amount_is_refused(typed: str, currency: str) -> None:
    """SA07: powers, NaN, -0, other scripts and anything that could be a thousand times another."""
    with pytest.raises(NumberError) as refused:
        read_money(typed, currency)
    assert "rite" in str(refused.value)


def test_a_credit_is_read_where_it_is_allowed() -> None:
    for typed in ("-12.50", "-$12.50", "$-12.50", "−12,50"):
        assert read_money(typed, "USD", negative=True) == -1250


@pytest.mark.parametrize(
    ("minor", "currency", "text"),
    [
        (123450, "USD", "$1,234.50"),
        (5, "USD", "$0.05"),
        (-1250, "USD", "-$12.50"),
        (840000, "NOK", "8,400.00 NOK"),
        (1234, "JPY", "¥1,234"),
        (1234, "KWD", "1.234 KWD"),
        (0, "EUR", "€0.00"),
    ],
)
def test_an_amount_is_shown_with_its_currency(minor: int, currency: str, text: str) -> None:
    assert show_money(minor, currency) == text


@given(st.integers(1 - 10**12, 10**12 - 1), st.sampled_from(sorted(CURRENCIES)))
def test_an_amount_reads_back_as_it_was_shown(minor: int, currency: str) -> None:
    assert read_money(show_money(minor, currency), currency, negative=True) == minor


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_a_clear_error(typed: str) -> None:
    try:
        minor = read_money(typed, "USD")
    except NumberError:
        return
    assert minor >= 0


def test_three_times_ten_cents_are_thirty_cents() -> None:
    """SA07: 0.30 exactly, and 3 times 19.99 is 59.97."""
    assert 3 * read_money("0.10", "USD") == read_money("0.30", "USD")
    assert times(3, Decimal("19.99"), "USD") == 5997


def test_halves_of_a_cent_go_up() -> None:
    """SA07: 2.675 is 2.68 and 0.125 is 0.13."""
    assert times(1, Decimal("2.675"), "USD") == 268
    assert times(1, Decimal("0.125"), "USD") == 13
    assert times(Decimal("-1"), Decimal("0.125"), "USD") == -13


def test_a_price_has_the_decimals_of_its_currency() -> None:
    assert times(Decimal("2.5"), Decimal("100.2"), "JPY") == 251
    assert times(Decimal("2.5"), Decimal("0.0501"), "KWD") == 125
    assert times(Fraction(25, 3), Decimal("9.00"), "USD") == 7500


def test_an_hourly_rate_or_a_tax_is_a_share_of_minor_units() -> None:
    """TA25: 8.25 % of 5,000.00 is 412.50, of the 3,000.00 of making 247.50."""
    assert times_minor(Decimal("0.0825"), 500_000) == 41_250
    assert times_minor(Decimal("0.0825"), 300_000) == 24_750
    assert times_minor(Fraction(90, 60), 5921) == 8882


def test_staged_payments_add_up_with_the_last_taking_the_rounding() -> None:
    """TA20: 8,400.00 and 7,333.33 in 10, 40, 25 and 25 %."""
    assert share_out(840_000, [10, 40, 25, 25]) == [84_000, 336_000, 210_000, 210_000]
    assert share_out(733_333, [10, 40, 25, 25]) == [73_333, 293_333, 183_333, 183_334]


def test_percentages_must_make_100() -> None:
    """TA20: the error says what they make."""
    with pytest.raises(MoneyError, match=r"add up to 99.5 %. Make them 100 %"):
        share_out(1000, [50, Decimal("49.5")])
    with pytest.raises(MoneyError, match="add up to 0 %"):
        share_out(1000, [])
    with pytest.raises(MoneyError, match="less than 0 %"):
        share_out(1000, [150, -50])


def test_no_part_takes_more_than_is_left() -> None:
    assert share_out(1, [50, 50, 0]) == [1, 0, 0]
    assert share_out(-1, [50, 50, 0]) == [-1, 0, 0]


@given(
    st.integers(-(10**9), 10**9),
    st.lists(st.integers(0, 100), min_size=1, max_size=8).map(lambda cuts: sorted({0, *cuts, 100})),
)
def test_the_parts_add_up_whatever_the_percentages(total: int, cuts: list[int]) -> None:
    percents = [after - before for before, after in pairwise(cuts)]
    parts = share_out(total, percents)
    assert sum(parts) == total
    assert all(part * total >= 0 for part in parts)
    for part, percent in zip(parts, percents, strict=True):
        assert abs(part - half_up(Fraction(total * percent, 100))) <= len(percents)
