from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.trade.numerals import NumberError, half_up, read_decimal


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("1.25", "1.25"),
        ("1,25", "1.25"),
        ("  7 ", "7"),
        (".5", "0.5"),
        (",5", "0.5"),
        ("0,500", "0.5"),
        ("007", "7"),
        ("1.2500000", "1.25"),
        ("1.234", "1.234"),
        ("1234,567", "1234.567"),
        ("1,234.56", "1234.56"),
        ("1,234,567", "1234567"),
        ("1 234,56", "1234.56"),
        ("1\u202f234.5", "1234.5"),
        ("0", "0"),
    ],
)
def test_numbers_are_read_where_they_can_mean_one_thing(typed: str, value: str) -> None:
    """SA07: a comma is a decimal mark unless it could part thousands."""
    assert read_decimal(typed) == Decimal(value)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Write a number"),
        ("1.234,56", "“1.234,56” is not a number. Write it like 1.25 or 1234.50."),
        ("1,234", "“1,234” can mean 1234 or 1.234."),
        ("1e3", "Write “1e3” out in full"),
        ("1E+3", "out in full"),
        ("NaN", "“NaN” is not a number"),
        ("Infinity", "is not a number"),
        ("-inf", "is not a number"),
        ("-0", "without the minus sign"),
        ("-0.00", "without the minus sign"),
        ("-5", "without the minus sign"),
        ("−5", "without the minus sign"),
        ("１２", "Write the digits as 0 to 9."),
        ("٣", "Write the digits as 0 to 9."),
        ("½", "Write the digits as 0 to 9."),
        ("1_000", "is not a number"),
        ("0x10", "is not a number"),
        ("5.", "is not a number"),
        (".", "is not a number"),
        ("1.2.3", "is not a number"),
        ("1,23,456", "is not a number"),
        ("12 34", "is not a number"),
        ("abc", "is not a number"),
        ("1.23456", "at most 4 digits after the point"),
        ("1" * 13, "too large"),
        ("1" * 41, "too long"),
    ],
)
def test_numbers_that_could_mean_two_things_or_none_are_refused(typed: str, says: str) -> None:
    """SA07: never a guess, and the text says how to write it."""
    with pytest.raises(NumberError) as refused:
        read_decimal(typed)
    assert says in str(refused.value)


def test_a_number_under_0_is_read_where_it_is_allowed() -> None:
    assert read_decimal("-12.50", negative=True) == Decimal("-12.5")
    with pytest.raises(NumberError, match="without the minus sign"):
        read_decimal("-0", negative=True)
    with pytest.raises(NumberError, match="not a number"):
        read_decimal("--5", negative=True)


def test_whole_numbers_may_part_their_thousands() -> None:
    assert read_decimal("1,234", 0, comma_groups=True) == 1234
    with pytest.raises(NumberError, match=r"has decimals\. Write a whole number"):
        read_decimal("1,25", 0, comma_groups=True)


@pytest.mark.parametrize(
    ("value", "whole"), [("0.5", 1), ("1.5", 2), ("2.5", 3), ("-0.5", -1), ("-2.5", -3), ("0.4999", 0), ("-0.4", 0)]
)
def test_a_half_goes_up(value: str, whole: int) -> None:
    """SA07: half up everywhere, where Python's round() would give the even one."""
    assert half_up(Decimal(value)) == whole


@given(st.decimals(-(10**9), 10**9, places=6))
def test_half_up_is_what_decimal_calls_half_up(value: Decimal) -> None:
    assert half_up(value) == int(value.to_integral_value(ROUND_HALF_UP))
    assert half_up(-value) == -half_up(value)
    assert half_up(Fraction(value)) == half_up(value)


@given(st.text(max_size=50))
def test_any_text_is_a_finite_number_or_a_clear_error(typed: str) -> None:
    try:
        value = read_decimal(typed)
    except NumberError:
        return
    assert value.is_finite()
    assert 0 <= value < 10**12


@given(st.decimals(0, 10**11, places=4))
def test_what_is_written_plainly_is_read_as_it_is(value: Decimal) -> None:
    assert read_decimal(f"{value:f}") == value
