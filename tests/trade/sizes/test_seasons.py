"""How a fit goes over the year: by the handbook's line, worked out here by hand beside the clock of the seasons."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.sizes.fit_classes import KINDS
from webapp.trade.sizes.fits import FitError
from webapp.trade.sizes.seasons import GRAIN, THICKNESS, WIDTH, Side, over_the_year, side
from webapp.trade.wood.movement import FLAT, MIXED, QUARTER
from webapp.trade.wood.species import find

MM = 1_000_000
MAPLE = find("sugar maple")  # radial 0.00165, tangential 0.00353: Wood Handbook FPL-GTR-190 Table 13-5, read


def test_a_drawer_that_runs_in_winter_sticks_in_a_damp_summer() -> None:
    """TA13: 150 mm of flat-sawn maple read at 9 %, 6 to 12 % in the house: 150 (1 ± 3 × 0.00353) mm in 152 mm."""
    drawer = side(150 * MM, 9, MAPLE, FLAT, WIDTH)
    assert drawer
    year = over_the_year("drawer in opening", Side(152 * MM), drawer, 6, 12)
    assert year.dry.clearance == 152 * MM - 150 * MM * (1 - 3 * Fraction("0.00353"))
    assert year.damp.clearance == 152 * MM - 150 * MM * (1 + 3 * Fraction("0.00353"))
    assert (year.dry.says("mm"), year.damp.says("mm")) == (
        "gap shows, about 3.59 mm of play", "sticks, about 0.41 mm of play",
    )  # fmt: skip


def test_a_thickness_moves_by_the_other_figure() -> None:
    found = {cut: side(MM, 8, MAPLE, cut, THICKNESS) for cut in (FLAT, QUARTER, MIXED)}
    assert [one and (str(one.least), str(one.most)) for one in found.values()] == [
        ("0.00165", "0.00165"), ("0.00353", "0.00353"), ("0.00165", "0.00353"),
    ]  # fmt: skip
    assert side(MM, 8, None, FLAT, WIDTH) is None
    assert side(MM, 8, MAPLE, "", THICKNESS) is None


def test_a_tenon_wetter_than_its_mortise_comes_loose_as_both_dry() -> None:
    """Each side is reckoned from its own moisture: 10 mm at 12 % and at 6 %, both at 6 % in the end."""
    wet, dry = side(10 * MM, 12, MAPLE, FLAT, THICKNESS), side(10 * MM, 6, MAPLE, FLAT, THICKNESS)
    assert wet
    assert dry
    found = over_the_year("tenon in mortise", dry, wet, 6, 6).dry
    assert found.clearance == 10 * MM * 6 * Fraction("0.00165")


def test_outside_of_the_handbooks_range_nothing_is_said() -> None:
    drawer = Side(150 * MM, 9, Decimal("0.0035"), Decimal("0.0035"))
    with pytest.raises(FitError, match="6 to 14"):
        over_the_year("drawer in opening", Side(152 * MM), drawer, 4, 9)
    assert set(GRAIN) < set(KINDS)


@settings(max_examples=50)
@given(st.sampled_from(sorted(GRAIN)), st.integers(6, 14), st.integers(6, 14), st.integers(6, 14))
def test_it_is_never_tighter_in_the_dry_season(kind: str, today: int, one: int, other: int) -> None:
    goes_in = side(100 * MM, today, MAPLE, MIXED, GRAIN[kind].piece)
    assert goes_in
    year = over_the_year(kind, Side(101 * MM), goes_in, min(one, other), max(one, other))
    assert year.dry.clearance >= year.damp.clearance
