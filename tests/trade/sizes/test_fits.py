from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.lengths import NANOMETRES, read
from webapp.trade.sizes.fit_classes import KINDS
from webapp.trade.sizes.fits import FitError, Movement, fit, fit_after, fits_between, moved

MM = NANOMETRES["mm"]

# What the notes of joinery_pairs.csv say of a pair, put into the classes. The other rows only give the difference.
SAID = {
    ("5/16", "8"): ("dowel in hole", "tight"),
    ("1/4", "6"): ("panel in groove", "loose"),
    ("3/8", "10"): ("dowel in hole", "does not go in"),
    ("1/2", "12"): ("board in dado", "loose"),
    ("1/2", "13"): ("board in dado", "does not go in"),
    ("3/4", "18"): ("board in dado", "loose"),
    ("3/4", "19"): ("board in dado", "snug"),
    ("3/16", "5"): ("pin in hole", "does not go in"),
    ("1 3/8", "35"): ("hinge cup in hole", "does not go in"),
}


def size(typed: str) -> int:
    return read(typed, "in").nanometres


def test_inch_openings_and_metric_pieces_miss_each_other_by_what_the_table_says() -> None:
    """TA29: exact in nanometres. Source: arithmetic, 1 in = 25.4 mm (joinery_pairs.csv: 14 computed)."""
    table = rows("joinery_pairs.csv")
    for row in table:
        opening, piece = size(row["inch"]), size(f"{row['metric_mm']} mm")
        kind, name = SAID.get((row["inch"], row["metric_mm"]), ("dowel in hole", None))
        found = fit(kind, opening, piece)
        assert found.clearance == Fraction(Decimal(row["inch_minus_metric_mm"])) * MM, row
        assert found.each_side * 2 == found.clearance
        assert name in (None, found.found.name), row
    assert len(table) == 14
    assert SAID.keys() <= {(row["inch"], row["metric_mm"]) for row in table}


def test_a_metric_cutter_makes_a_hole_for_an_inch_pin_and_the_other_way_round() -> None:
    """Source: arithmetic. 1/4 in is 6.35 mm: a 6 mm hole is 0.35 short of it, a 6.35 mm one is the same to the last."""
    assert fit("pin in hole", size("6 mm"), size("1/4")).clearance == -350_000
    assert fit("pin in hole", size("6.35 mm"), size("1/4")).clearance == 0
    assert fit("pin in hole", size("1/4"), size("6 mm")).says("mm") == "loose, 0.35 mm of play"


@pytest.mark.parametrize(
    ("opening", "piece", "unit", "says"),
    [
        ("10 mm", "9.9 mm", "mm", "snug, 0.1 mm of play"),
        ("10 mm", "9.9 mm", "ft", "snug, about 0.004 in of play"),
        ("10 mm", "10.05 mm", "m", "tight, 0.05 mm too big"),
        ("10 mm", "10 mm", "mm", "snug, no play"),
        ("3/4", "0.748", "in", "snug, 0.002 in of play"),
        ("13/16", "1", "in", "does not go in, about 0.188 in too big"),
    ],
)
def test_a_fit_is_said_in_the_unit_of_the_shop(opening: str, piece: str, unit: str, says: str) -> None:
    assert fit("tenon in mortise", size(opening), size(piece)).says(unit) == says


def test_a_trace_too_small_to_be_shown_is_no_play() -> None:
    assert fit("tenon in mortise", 10 * MM, 10 * MM - 4_000).says("mm") == "snug, no play"
    assert fit("tenon in mortise", 10 * MM, 10 * MM + 4_000).says("mm") == "tight, no play"


def test_two_tolerances_make_a_tightest_and_a_loosest_fit() -> None:
    """Source: arithmetic, worst case: 10.2 ± 0.1 over 10.0 ± 0.05 is 0.05 to 0.35."""
    tight, loose = fits_between(
        "tenon in mortise", size("10.2 mm"), 10 * MM, opening_tolerance=100_000, piece_tolerance=50_000
    )
    assert (tight.clearance, tight.found.name) == (50_000, "snug")
    assert (loose.clearance, loose.found.name) == (350_000, "loose")
    with pytest.raises(FitError, match="A tolerance cannot be less than 0"):
        fits_between("tenon in mortise", MM, MM, piece_tolerance=-1)


def test_a_drawer_fitted_in_a_dry_month_sticks_in_a_damp_one() -> None:
    """TA13: 6 in of flat-sawn commercial white oak (0.00365, read), 6 to 12 %: 0.131 in, more than its gap of 1/16."""
    opening, drawer = size("6 1/16"), size("6")
    grown = moved(drawer, 0.00365, 6, 12)
    assert grown - drawer == Fraction("0.1314") * NANOMETRES["in"]
    assert fit("drawer in opening", opening, drawer).found.name == "runs"
    damp = fit_after("drawer in opening", opening, drawer, Movement(6, 12, piece=0.00365))
    assert damp.clearance == size("1/16") - Fraction("0.1314") * NANOMETRES["in"]
    assert damp.found.name == "does not go in"


def test_mortise_and_tenon_of_one_wood_move_together() -> None:
    """Source: arithmetic: the clearance itself grows by the same share, 0.1 mm by 1.5 %."""
    after = fit_after("tenon in mortise", size("10.1 mm"), 10 * MM, Movement(8, 12, 0.00365, 0.00365))
    assert after.clearance == Fraction("0.1") * MM * (1 + 4 * Fraction("0.00365"))
    assert after.found.name == "snug"


def test_a_coefficient_counts_as_it_is_written() -> None:
    for share in (0.00365, Decimal("0.00365"), Fraction(365, 100_000)):
        assert moved(100 * MM, share, 8, 9) == 100_365_000


@pytest.mark.parametrize(
    ("share", "before", "after", "says"),
    [
        (0.00365, 5, 8, "from 6 to 14 %"),
        (0.00365, 8, 14.1, "from 6 to 14 %"),
        (0.00365, 8, float("nan"), "Write a number"),
        (0.365, 8, 9, "such as 0.0035"),
        (-0.001, 8, 9, "such as 0.0035"),
        (float("inf"), 8, 9, "Write a number"),
    ],
)
def test_outside_what_the_figures_hold_for_nothing_is_said(
    share: float, before: float, after: float, says: str
) -> None:
    """TA13: the range 6 to 14 %, and a percentage typed where a share is meant."""
    with pytest.raises(FitError, match=says):
        fit_after("drawer in opening", 150 * MM, 149 * MM, Movement(before, after, piece=share))


@pytest.mark.parametrize(("opening", "piece"), [(0, 1), (1, 0), (-1, 1)])
def test_a_joint_without_a_size_is_refused(opening: int, piece: int) -> None:
    for judge in (fit, fits_between):
        with pytest.raises(FitError, match="over 0"):
            judge("tenon in mortise", opening, piece)
    with pytest.raises(FitError, match="no fit that is known"):
        fit("lid on box", 2, 1)


KIND = st.sampled_from(sorted(KINDS))
SIZE = st.integers(1, 10**9)


@settings(max_examples=60)
@given(KIND, SIZE, st.integers(-(10**7), 10**7))
def test_each_clearance_lies_within_the_limits_of_its_class(kind: str, piece: int, clearance: int) -> None:
    if piece + clearance <= 0:
        return
    found = fit(kind, piece + clearance, piece)
    place = KINDS[kind].index(found.found)
    below = KINDS[kind][place - 1].under if place else None
    assert below is None or found.clearance >= below
    assert found.found.under is None or found.clearance < found.found.under


@settings(max_examples=60)
@given(SIZE, st.integers(60, 140), st.integers(60, 140), st.integers(0, 1000))
def test_what_dries_never_grows(width: int, before: int, after: int, share: int) -> None:
    change = moved(width, Fraction(share, 100_000), Fraction(before, 10), Fraction(after, 10)) - width
    assert change * (after - before) >= 0
    assert (change == 0) == (share == 0 or before == after)
