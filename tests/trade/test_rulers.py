from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.lengths import read
from webapp.trade.rulers import LengthError, nearest, show, show_decimal
from webapp.trade.units import NANOMETRES

IN = NANOMETRES["in"]
SIXTY_FOURTH = 396_875


@pytest.mark.parametrize(
    ("nanometres", "unit", "text"),
    [
        (0, "in", "0 in"),
        (19_050_000, "in", "3/4 in"),
        (698_500_000, "in", "27 1/2 in"),
        (698_500_000, "ft", "2 ft 3 1/2 in"),
        (609_600_000, "ft", "2 ft"),
        (0, "ft", "0 ft"),
        (SIXTY_FOURTH, "in", "1/64 in"),
        (19_000_000, "in", "3/4 in less 0.05 mm"),
        (21_000_000, "in", "53/64 in less 0.034 mm"),
        (-3_175_000, "in", "-1/8 in"),
        (-19_000_000, "in", "-3/4 in plus 0.05 mm"),
        (19_000_000, "mm", "19 mm"),
        (19_500_000, "mm", "19.5 mm"),
        (628_650_000, "mm", "628.65 mm"),
        (20_637_500, "mm", "about 20.64 mm"),
        (-1_250_000, "mm", "-1.25 mm"),
        (1, "mm", "about 0 mm"),
        (127_000_000, "cm", "12.7 cm"),
        (1_200_000_000, "m", "1.2 m"),
    ],
)
def test_a_length_is_shown_with_its_unit_and_what_it_is_off_by(nanometres: int, unit: str, text: str) -> None:
    assert show(nanometres, unit) == text


def test_a_coarser_rule_says_what_it_leaves_out() -> None:
    assert show(SIXTY_FOURTH * 49, "in", 16) == "3/4 in plus 1/64 in"
    assert show(SIXTY_FOURTH * 49, "in", 1) == "1 in less 15/64 in"


def test_the_least_difference_is_not_shown_as_none() -> None:
    assert show(IN + 1, "in") == "1 in plus 0.001 mm"


@pytest.mark.parametrize(
    ("nanometres", "unit", "text"),
    [
        (19_050_000, "in", "0.75 in"),
        (20_637_500, "in", "about 0.813 in"),
        (62_500, "in", "about 0.002 in"),
        (-62_500, "mm", "about -0.06 mm"),
        (698_500_000, "ft", "about 2.2917 ft"),
        (609_600_000, "ft", "2 ft"),
        (19_500_000, "cm", "1.95 cm"),
        (0, "in", "0 in"),
    ],
)
def test_a_length_is_shown_as_a_decimal_too(nanometres: int, unit: str, text: str) -> None:
    assert show_decimal(nanometres, unit) == text


def test_as_many_decimals_as_are_asked_for() -> None:
    assert show_decimal(20_637_500, "in", 4) == "0.8125 in"
    assert show_decimal(20_637_500, "mm", 0) == "about 21 mm"
    assert show_decimal(100 * IN, "in", 0) == "100 in"
    with pytest.raises(LengthError, match="0 decimals or more"):
        show_decimal(1, "in", -1)


def test_what_is_no_unit_or_no_rule_is_refused() -> None:
    for print_it in (show, show_decimal):
        with pytest.raises(LengthError, match="not a unit of length"):
            print_it(3, "yd")
    for unit in ("in", "mm"):
        with pytest.raises(LengthError, match="finest fraction"):
            show(3, unit, 0)


@settings(max_examples=60)
@given(st.integers(-(10**11), 10**11), st.sampled_from([16, 32, 64]))
def test_mark_and_error_make_the_length_and_the_error_is_half_a_mark_at_most(nanometres: int, rule: int) -> None:
    """TA29: to the nearest 1/16, 1/32 and 1/64, with the error said."""
    found = nearest(nanometres, rule)
    assert found.inches * IN + found.error == nanometres
    assert rule % found.inches.denominator == 0
    assert abs(found.error) <= Fraction(IN, 2 * rule)
    assert ("plus" in show(nanometres, "in", rule)) == (found.error > 0)
    assert ("less" in show(nanometres, "in", rule)) == (found.error < 0)


def test_every_64th_is_shown_as_the_table_has_it() -> None:
    """TA29: source exact arithmetic, 1 in = 25.4 mm (cutter_equivalents.csv, computed)."""
    for row in rows("cutter_equivalents.csv"):
        size = int(Decimal(row["mm_exact"]) * NANOMETRES["mm"])
        assert show(size, "in") == f"{row['inch_fraction']} in"
        assert show_decimal(size, "in", 6) == f"{Decimal(row['inch_decimal']).normalize():f} in"
        half = read(f"{row['nearest_half_mm']} mm", "in").nanometres
        assert size - half == Decimal(row["inch_minus_metric_mm"]) * NANOMETRES["mm"]
        assert abs(size - half) <= 250_000
