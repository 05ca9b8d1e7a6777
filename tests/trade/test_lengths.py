from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
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
        ("2' - 3 1/2\"", Fraction(55, 2)),
        ("2'- 3 1/2\"", Fraction(55, 2)),
        ("0'-6\"", Fraction(6)),
        ("6'0", Fraction(72)),
        ("2 ft. 3 ins.", Fraction(27)),
        ("1³⁄₄", Fraction(7, 4)),
        ("1 ³/₄ in", Fraction(7, 4)),
        ("¹⁵⁄₁₆″", Fraction(15, 16)),
        ("2⅟₁₆", Fraction(33, 16)),
        ("⅜ ins", Fraction(3, 8)),
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
        ("1 200 mm", 1200 * MM),
        ("1\u202f200,5 mm", 1_200_500_000),
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
        ("1 200", "is not a length"),
        ("1 -1/4", "is not a length"),
        ("2' -3", "is not a length"),
        ("⅟16", "is not a length"),
        ("½½", "is not a length"),
        ("³/4", "Write the digits as 0 to 9."),
        ("2x4", "“2x4” is more than one size. Write one length, like 3/4 in."),
        ("19 × 45 mm", "is more than one size"),
        ('3/4" x 2 1/2 x 27', "is more than one size"),
        ("3 by 4", "is more than one size"),
        ('1/4"-20', "is not a length"),
        ("M6", "is not a length"),
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


def test_three_thirds_of_a_foot_are_a_foot() -> None:
    """TA29: sums are exact, also where a third is no whole number of nanometres."""
    assert total([read("1/3 ft", "in")] * 3) == NANOMETRES["ft"]
    assert total([read("1/3", "in")] * 3) == IN
    assert 3 * read("1/3", "in").nanometres != IN


def test_mixed_units_add_up_exactly() -> None:
    assert total([read("1 in", "in"), read("19 mm", "in"), read("1 ft", "in")]) == 25_400_000 + 19_000_000 + 304_800_000
    assert total([]) == 0


@settings(max_examples=50)
@given(st.integers(0, FARTHEST // SIXTY_FOURTH))
def test_every_64th_reads_back_as_it_was_shown(steps: int) -> None:
    size = steps * SIXTY_FOURTH
    for unit in ("in", "ft"):
        assert read(show(size, unit), "mm").nanometres == size


@settings(max_examples=50)
@given(st.integers(0, FARTHEST // 10_000))
def test_every_hundredth_of_a_millimetre_reads_back_as_it_was_shown(steps: int) -> None:
    size = steps * 10_000
    for unit in ("mm", "cm", "m"):
        assert read(show(size, unit), "in").nanometres == size


def written() -> st.SearchStrategy[tuple[str, Fraction]]:
    """Inches as somebody may write them, and what they are."""
    numbers = st.tuples(st.integers(0, 99), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(1, 63))
    forms = st.tuples(numbers, st.sampled_from([" ", "-"]), st.sampled_from(["", '"', " in", "″", "”", "''", "-inch"]))

    def write(parts: tuple[tuple[int, int, int], str, str]) -> tuple[str, Fraction]:
        (whole, bottom, top), between, unit = parts
        top = top % bottom
        fraction = f"{top}/{bottom}" if top else ""
        number = between.join(filter(None, (str(whole) if whole or not top else "", fraction)))
        return number + unit, whole + Fraction(top, bottom)

    return st.one_of(
        forms.map(write),
        st.tuples(st.integers(0, 9), forms.map(write), st.sampled_from(["' ", "'", "'-", "' - ", " ft ", "′"])).map(
            lambda given: (f"{given[0]}{given[2]}{given[1][0]}", 12 * given[0] + given[1][1])
        ),
        st.decimals(0, 99, places=4).map(lambda size: (f"{size:f}", Fraction(size))),
    )


@settings(max_examples=60)
@given(written())
def test_whatever_hand_wrote_it_it_is_exact_and_reads_back_as_kept(given: tuple[str, Fraction]) -> None:
    """TA29: any of the ways of writing; what is kept reads again in any shop."""
    length = read(given[0], "in")
    assert length.exact == given[1] * IN
    assert read(length.entered, "mm").exact == length.exact


@settings(max_examples=50)
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
