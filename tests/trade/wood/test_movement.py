import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.lengths import read
from webapp.trade.wood.movement import (
    CUTS,
    FLAT,
    MIXED,
    QUARTER,
    MovementError,
    Season,
    change,
    coefficients,
    seasonal,
)
from webapp.trade.wood.species import SPECIES, Species, find

EXAMPLES = rows("dimensional_change_examples.csv")
MOISTURES = st.integers(60, 140).map(lambda tenths: tenths / 10)
WIDTHS = st.integers(1, 2 * 10**9)
ANY_SPECIES = st.sampled_from(SPECIES)
ANY_CUT = st.sampled_from(CUTS)


def most(width: int | Fraction, species: Species | None, cut: str, before: float, after: float) -> int:
    found = change(width, species, cut, before, after)
    assert found is not None
    return found.most


def test_the_handbook_example_comes_out_as_printed() -> None:
    """dimensional_change_examples.csv: white fir, 1.7 mm of 232 and 0.067 in of 9.15 (read; moistures from memory)."""
    printed = [row for row in EXAMPLES if row["published_change"]]
    assert len(printed) == 2
    for row in printed:
        fir = Species("fir, white", "white fir", Decimal("0.00112"), Decimal(row["coefficient"]))
        width = read(row["initial_dimension"], "in").exact
        grown = most(width, fir, FLAT, float(row["mc_initial_pct"]), float(row["mc_final_pct"]))
        number, unit = row["published_change"].split()
        final = row["final"].removeprefix("final ").split()[0]
        size, places = (10**6, 1) if unit == "mm" else (25_400_000, 3)
        assert round(grown / size, places) == float(number)
        assert round(float(width + grown) / size, places) == float(final)


def test_the_reckoned_examples_come_out() -> None:
    """dimensional_change_examples.csv: equation 13-2 with coefficients that were read, computed to the nanometre."""
    cases = [row for row in EXAMPLES if row["how_known"] == "computed"]
    assert len(cases) == 4
    for row in cases:
        said, cut = row["case"].split(", ")
        species = find(said)
        assert species is not None
        assert row["coefficient"] in (str(species.radial), str(species.tangential))
        width, moved = (round(float(row[name].split()[0]) * 10**6) for name in ("initial_dimension", "computed_change"))
        assert most(width, species, cut, float(row["mc_initial_pct"]), float(row["mc_final_pct"])) == moved, row


def test_a_white_oak_top_swings_by_a_good_three_quarters_of_an_inch() -> None:
    """TA13: 36 in, 6 to 12 %: 0.79 in flat-sawn, 0.39 quarter-sawn (Table 13-5, commercial white oak)."""
    inch = 25_400_000
    assert round(most(36 * inch, find("white oak"), FLAT, 6, 12) / inch, 2) == 0.79
    assert round(most(36 * inch, find("white oak"), QUARTER, 6, 12) / inch, 2) == 0.39
    assert round(most(18 * inch, find("white oak"), FLAT, 6, 12) / inch, 2) == 0.39  # each edge, held in the middle


def test_an_unknown_species_or_cut_gives_no_number() -> None:
    """TA13: none is invented."""
    season = Season(6, 8, 12)
    for species, cut in ((None, FLAT), (find("teak"), FLAT), (find("white oak"), None), (find("white oak"), "rift?")):
        assert change(10**9, species, cut, 6, 12) is None
        assert seasonal(10**9, species, cut, season) is None
        assert coefficients(species, cut) is None


@pytest.mark.parametrize("moistures", [(5.9, 8), (8, 14.1), (30, 8), (8, 0), (math.nan, 8), (8, math.inf)])
def test_outside_the_range_it_refuses_with_a_sentence(moistures: tuple[float, float]) -> None:
    """TA13: the coefficients hold from 6 to 14 % (heading of Table 13-5, read)."""
    with pytest.raises(MovementError, match=r"hold from 6 to 14 % moisture; .* % is outside, so no movement is given"):
        change(10**9, find("white oak"), FLAT, *moistures)
    with pytest.raises(MovementError, match="6 to 14 %"):
        Season(6, *moistures)


def test_the_ends_of_the_range_are_inside() -> None:
    fact = next(row for row in rows("handbook_facts.csv") if row["item"] == "validity of CR/CT coefficients")
    assert fact["value"] == "6 % to 14 % MC"
    assert most(10**9, find("black walnut"), QUARTER, 6, 14) == 15_200_000


def test_a_mixed_cut_lies_between() -> None:
    found = change(10**9, find("black walnut"), MIXED, 10, 8)
    assert found is not None
    assert (found.least, found.most) == (-3_800_000, -5_480_000)
    assert (most(10**9, find("black walnut"), QUARTER, 10, 8), most(10**9, find("black walnut"), FLAT, 10, 8)) == (
        found.least,
        found.most,
    )


@given(WIDTHS, ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES)
@settings(max_examples=50)
def test_a_panel_that_dries_never_grows(width: int, species: Species, cut: str, one: float, other: float) -> None:
    dry, wet = sorted((one, other))
    dried, wetted = change(width, species, cut, wet, dry), change(width, species, cut, dry, wet)
    assert dried is not None
    assert wetted is not None
    assert -width < dried.most <= dried.least <= 0 <= wetted.least <= wetted.most < width


@given(WIDTHS, ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES)
@settings(max_examples=50)
def test_there_and_back_is_nothing(width: int, species: Species, cut: str, one: float, other: float) -> None:
    assert most(width, species, cut, one, other) + most(width, species, cut, other, one) == 0
    assert most(width, species, cut, one, one) == 0


@given(WIDTHS, ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES, MOISTURES)
@settings(max_examples=50)
def test_a_year_holds_today_and_its_own_swing(
    width: int, species: Species, cut: str, one: float, other: float, today: float
) -> None:
    dry, wet = sorted((one, other))
    year = seasonal(width, species, cut, Season(dry, today, wet))
    assert year is not None
    assert 0 < year.narrowest <= width <= year.widest
    assert (year.shrinks, year.grows) == (width - year.narrowest, year.widest - width)
    assert year.swing <= year.shrinks + year.grows + 1
    if dry <= today <= wet:
        assert abs(year.shrinks + year.grows - year.swing) <= 1


def test_wood_wetter_than_the_house_only_shrinks() -> None:
    """From the shop at 11 % into a house of 6 to 9 %: nothing to grow, and all the way down."""
    year = seasonal(10**9, find("black cherry"), FLAT, Season(dry=6, today=11, wet=9))
    assert year is not None
    assert (year.grows, year.shrinks, year.swing) == (0, 12_400_000, 7_440_000)


def test_what_is_no_part_is_refused() -> None:
    for width in (0, -1):
        with pytest.raises(MovementError, match="over 0"):
            change(width, find("white oak"), FLAT, 6, 12)
        with pytest.raises(MovementError, match="over 0"):
            seasonal(width, None, None, Season(6, 8, 12))
    with pytest.raises(MovementError, match="Change them round"):
        Season(12, 8, 6)
