from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.lengths import FARTHEST, NANOMETRES, LengthError, read, show, total

IN = NANOMETRES["in"]
MM = NANOMETRES["mm"]
SIXTY_FOURTH = 396_875


@pytest.mark.parametrize(
    ("typed", "inches"),
    [
        ("3/4", Fraction(3, 4)),
        ("1 1/4", Fraction(5, 4)),
        ("1-1/4", Fraction(5, 4)),
        ('1-1/4"', Fraction(5, 4)),
        ("1¼", Fraction(5, 4)),
        ("1 ¼", Fraction(5, 4)),
        ("1-¼", Fraction(5, 4)),
        ("1.25", Fraction(5, 4)),
        ("1,25", Fraction(5, 4)),
        ("13/16", Fraction(13, 16)),
        ('13/16"', Fraction(13, 16)),
        ("½", Fraction(1, 2)),
        ("⅞ in", Fraction(7, 8)),
        ("3⁄4", Fraction(3, 4)),
        ("1 3 / 4 inches", Fraction(7, 4)),
        ("24-3/4", Fraction(99, 4)),
        ("3/4-in.", Fraction(3, 4)),
        ("3/4''", Fraction(3, 4)),
        ("1 1/4″", Fraction(5, 4)),
        ("1 1/4”", Fraction(5, 4)),
        ("2' 3-1/2\"", Fraction(55, 2)),
        ("2′ 3 1/2″", Fraction(55, 2)),
        ("2’3½”", Fraction(55, 2)),
        ("2'-3 1/2\"", Fraction(55, 2)),
        ("2 ft 3 in", Fraction(27)),
        ("2 Feet 3 Inches", Fraction(27)),
        ("2' 3", Fraction(27)),
        ("2ft", Fraction(24)),
        ("1/3 ft", Fraction(4)),
        (".5", Fraction(1, 2)),
        ("0,125", Fraction(1, 8)),
        ("0", Fraction(0)),
    ],
)
def test_inches_and_feet_are_read_as_makers_write_them(typed: str, inches: Fraction) -> None:
    """TA29: exact, and 1-1/4 is never 1 minus 1/4."""
    assert read(typed, "in").exact == inches * IN


@pytest.mark.parametrize(
    ("typed", "nanometres"),
    [
        ("19 mm", 19 * MM),
        ("19mm", 19 * MM),
        ("19 MM", 19 * MM),
        ("19,5 mm", 19_500_000),
        ("19.5 millimetres", 19_500_000),
        ("1/2 mm", 500_000),
        ("12.7 cm", 127 * MM),
        ("1,2 m", 1200 * MM),
        ("2 meters", 2000 * MM),
    ],
)
def test_metric_is_read_in_an_inch_shop_too(typed: str, nanometres: int) -> None:
    """TA29: the unit that was written wins."""
    assert read(typed, "in").nanometres == nanometres
    assert read(typed, "mm").nanometres == nanometres


def test_a_bare_number_is_in_the_unit_of_the_shop() -> None:
    assert read("19", "mm").nanometres == 19 * MM
    assert read("19", "in").nanometres == 19 * IN
    assert read("2", "ft").nanometres == 24 * IN


@pytest.mark.parametrize(
    ("typed", "entered", "unit"),
    [
        ("  3/4 ", "3/4 in", "in"),
        ("1¼", "1¼ in", "in"),
        ('1-1/4"', '1-1/4"', "in"),
        ("19mm", "19mm", "mm"),
        ("2'   3", "2' 3 in", "in"),
        ("2 ft", "2 ft", "ft"),
    ],
)
def test_what_was_entered_is_kept_and_says_its_unit(typed: str, entered: str, unit: str) -> None:
    """TA29: a fraction stays a fraction, millimetres stay millimetres."""
    length = read(typed, "in")
    assert (length.entered, length.unit) == (entered, unit)
    assert read(length.entered, "mm") == length


def test_quarters_in_a_thickness_field_are_nominal() -> None:
    """TA29: 8/4 is 2 in by name and kept as 8/4."""
    length = read("8/4", "in", nominal=True)
    assert (length.nanometres, length.entered, length.nominal) == (2 * IN, "8/4", True)
    assert read("5/4", "mm", nominal=True).nanometres == 31_750_000
    assert not read("3/4", "in", nominal=True).nominal
    assert not read("8/4 in", "in", nominal=True).nominal
    assert not read("8/4", "in").nominal


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Write a length."),
        ("   ", "Write a length."),
        ("abc", "“abc” is not a length."),
        ("1/0", "divided by 0"),
        ("-3/4", "less than 0"),
        ("−3/4", "less than 0"),
        ("1/4-20", "is a thread, not a length. Write the length alone, like 1/4."),
        ("1 - 1/4", "is not a length"),
        ("1 5/4", "the fraction is not under 1"),
        ("¼5", "is not a length"),
        ("1e3", "is not a length"),
        ("NaN", "is not a length"),
        ("inf", "is not a length"),
        ("１９ mm", "Write the digits as 0 to 9."),
        ("1²/3", "Write the digits as 0 to 9."),
        ("1,200 mm", "can mean 1200 or 1.200"),
        ("1.2.3", "is not a number"),
        ("1" * 41, "too long"),
        ("9" * 13, "too large"),
        ("1001 m", "longer than 1 km"),
        ("0.0000000000001", "too fine"),
        ("3 mm 4", "is not a length"),
        ("3 yd", "is not a length"),
        ("=1+1", "is not a length"),
        ("1\x00", "is not a length"),
    ],
)
def test_what_is_no_length_is_refused_with_what_to_do(typed: str, says: str) -> None:
    """TA29: a clear error, never a guess."""
    with pytest.raises(LengthError) as refused:
        read(typed, "in")
    assert says in str(refused.value)
    assert len(str(refused.value)) < 140


def test_a_bare_fraction_in_a_metric_shop_is_asked_about() -> None:
    with pytest.raises(LengthError, match=r"“3/4” of what\? Write 3/4 in, or the size in mm"):
        read("3/4", "mm")


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(LengthError, match="not a unit of length"):
        read("3", "yd")
    with pytest.raises(LengthError, match="not a unit of length"):
        show(3, "yd")
    with pytest.raises(LengthError, match="finest fraction"):
        show(3, "in", 0)


def test_three_thirds_of_a_foot_are_a_foot() -> None:
    """TA29: sums are exact, also where a third is no whole number of nanometres."""
    assert total([read("1/3 ft", "in")] * 3) == NANOMETRES["ft"]
    assert total([read("1/3", "in")] * 3) == IN
    assert 3 * read("1/3", "in").nanometres != IN


def test_mixed_units_add_up_exactly() -> None:
    assert total([read("1 in", "in"), read("19 mm", "in"), read("1 ft", "in")]) == 25_400_000 + 19_000_000 + 304_800_000
    assert total([]) == 0


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
    assert show(SIXTY_FOURTH * 49, "in", 16) == "3/4 in plus 0.397 mm"
    assert show(SIXTY_FOURTH * 49, "in", 1) == "1 in less 5.953 mm"


def test_the_least_difference_is_not_shown_as_none() -> None:
    assert show(IN + 1, "in") == "1 in plus 0.001 mm"


@given(st.integers(0, FARTHEST // SIXTY_FOURTH))
def test_every_64th_reads_back_as_it_was_shown(steps: int) -> None:
    size = steps * SIXTY_FOURTH
    for unit in ("in", "ft"):
        assert read(show(size, unit), "mm").nanometres == size


@given(st.integers(0, FARTHEST // 10_000))
def test_every_hundredth_of_a_millimetre_reads_back_as_it_was_shown(steps: int) -> None:
    size = steps * 10_000
    for unit in ("mm", "cm", "m"):
        assert read(show(size, unit), "in").nanometres == size


@given(st.text(max_size=60))
def test_any_text_is_a_length_or_a_clear_error(typed: str) -> None:
    try:
        length = read(typed, "in")
    except LengthError:
        return
    assert 0 <= length.nanometres <= FARTHEST
    assert read(length.entered, "mm").exact == length.exact


def test_the_64ths_are_those_of_the_table() -> None:
    """Source: exact arithmetic, 1 in = 25.4 mm (cutter_equivalents.csv)."""
    table = rows("cutter_equivalents.csv")
    assert len(table) == 64
    for row in table:
        length = read(row["inch_fraction"], "in")
        assert length.exact == int(row["sixty_fourths"]) * SIXTY_FOURTH
        assert length.exact == Fraction(Decimal(row["mm_exact"]) * MM)


def test_inch_and_metric_sizes_miss_each_other_by_what_the_table_says() -> None:
    """Source: exact arithmetic, 1 in = 25.4 mm (joinery_pairs.csv)."""
    for row in rows("joinery_pairs.csv"):
        inch, metric = read(row["inch"], "in"), read(f"{row['metric_mm']} mm", "in")
        assert inch.nanometres - metric.nanometres == Decimal(row["inch_minus_metric_mm"]) * MM
        assert inch.nanometres == Decimal(row["inch_in_mm_exact"]) * MM


def test_lumber_thicknesses_are_those_of_the_trade() -> None:
    """Source: hardwood trade rule and PS 20 (lumber_sizes.csv)."""
    seen = 0
    for row in rows("lumber_sizes.csv"):
        for inches in ("rough", "s1s", "s2s_or_dressed"):
            if row[f"{inches}_mm_exact"]:
                assert read(row[f"{inches}_in"], "in").nanometres == Decimal(row[f"{inches}_mm_exact"]) * MM
                seen += 1
        if row["group"] == "hardwood thickness":
            assert read(row["nominal"], "in", nominal=True).nanometres == Decimal(row["rough_mm_exact"]) * MM
    assert seen > 30


@pytest.mark.parametrize(("typed", "to_unit"), [("1 in", "mm"), ("1 ft", "m")])
def test_the_factors_are_exact(typed: str, to_unit: str) -> None:
    """Source: NIST SP 811 App. B (conversions.csv)."""
    row = next(row for row in rows("conversions.csv") if (row["from"], row["to_unit"]) == (typed, to_unit))
    assert read(typed, "in").exact == Fraction(Decimal(row["value"])) * NANOMETRES[to_unit]
