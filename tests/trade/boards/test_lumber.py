from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.boards.lumber import (
    FOOT,
    INCH,
    Board,
    LumberError,
    board_feet,
    bundle_size,
    bundle_sizes,
    surface_measure,
    tally,
    tally_all,
)
from webapp.trade.lengths import NANOMETRES, read
from webapp.trade.units import convert


def inches(typed: str, *, nominal: bool = False) -> Fraction:
    return read(typed, "in", nominal=nominal).exact


def feet(typed: str) -> Fraction:
    return read(typed, "ft").exact


def test_the_published_boards_come_out_as_published() -> None:
    """TA23: exact and by the yard's rule (board_foot_examples.csv: four read, three computed)."""
    table = rows("board_foot_examples.csv")
    assert [row["how_known"] for row in table] == ["read"] * 4 + ["computed"] * 3
    for row in table:
        board = (inches(row["thickness_in_nominal"], nominal=True), inches(row["width_in"]), feet(row["length_ft"]))
        assert round(float(board_feet(*board)), 6) == float(row["bf_exact"]), row
        assert round(float(convert(board_feet(*board), "bd ft", "m³")), 9) == float(row["volume_m3_exact"]), row
        assert round(float(surface_measure(*board[1:])), 6) == float(row["sm_unrounded"]), row
        count = tally(*board)
        assert count.surface_measure == int(row["sm_tally"]), row
        assert count.board_feet == Fraction(row["bf_tally"]), row


def test_the_tally_rounds_before_the_thickness_counts() -> None:
    """TA23: 2 in x 6 1/4 in x 8 ft counts 8 board feet, 8 1/3 by volume."""
    board = (2 * INCH, inches("6 1/4"), 8 * FOOT)
    assert tally(*board).board_feet == 8
    assert board_feet(*board) == Fraction(25, 3)


def test_a_length_drops_to_the_whole_foot() -> None:
    """TA23: 5 1/4 in x 8 1/2 ft is written 5 and 8."""
    assert bundle_size(inches("5 1/4"), feet("8.5")) == (5, 8)
    assert tally(INCH, 12 * INCH, feet("8.99")).surface_measure == 8


def test_half_an_inch_of_width_goes_either_way() -> None:
    """TA23: in turn over a bundle; source: the trade's measurement guide."""
    assert bundle_size(inches("5 1/2"), 8 * FOOT) == (6, 8)
    assert bundle_size(inches("5 1/2"), 8 * FOOT, half_goes_up=False) == (5, 8)
    assert bundle_size(inches("5 33/64"), 8 * FOOT, half_goes_up=False) == (6, 8)


def test_under_an_inch_counts_as_an_inch_unless_the_yard_does_not_do_so() -> None:
    """TA23: one board 3/4 in thick."""
    board = (inches("3/4"), 6 * INCH, 8 * FOOT)
    assert tally(*board).board_feet == 4
    assert tally(*board, least=0).board_feet == 3
    assert board_feet(*board) == 3


def test_exact_halves_go_up_and_down_in_turn() -> None:
    """TA23: 4.5 is 5, then 4, then 5; boards without a half between them do not turn it."""
    half, whole = Board(INCH, 6 * INCH, 9 * FOOT), Board(INCH, 8 * INCH, 12 * FOOT)
    assert [count.surface_measure for count in tally_all([half, whole, half, half])] == [5, 8, 4, 5]
    assert tally_all([]) == []


def test_half_inches_of_a_bundle_go_up_and_down_in_turn() -> None:
    """TA23: source the trade's measurement guide (handbook_facts.csv, read); 5 1/4 between does not turn it."""
    widths = [inches(typed) for typed in ("5 1/2", "5 1/4", "6 1/2", "7 1/2")]
    written = bundle_sizes(Board(INCH, width, feet("8.5")) for width in widths)
    assert written == [(6, 8), (5, 8), (6, 8), (8, 8)]


@pytest.mark.parametrize("board", [(0, 1, 1), (1, 0, 1), (1, 1, -1)])
def test_a_board_without_a_size_is_refused(board: tuple[int, int, int]) -> None:
    for measure in (board_feet, tally):
        with pytest.raises(LumberError, match="over 0"):
            measure(*board)
    with pytest.raises(LumberError, match="over 0"):
        surface_measure(0, 1)


def test_a_board_foot_is_what_the_standard_says() -> None:
    """Source: NIST Handbook 44 App. C, UCUM (conversions.csv)."""
    row = next(r for r in rows("conversions.csv") if (r["from"], r["to_unit"]) == ("1 board foot", "m3"))
    assert convert(1, "bd ft", "m³") == Fraction(Decimal(row["value"]))
    assert convert(1000, "bd ft", "m³") == Fraction(Decimal("2.359737216"))
    assert round(1 / convert(1, "bd ft", "m³"), 9) == Fraction(Decimal("423.776000658"))
    assert board_feet(INCH, 12 * INCH, FOOT) == 1
    assert NANOMETRES["ft"] == FOOT


@settings(max_examples=50)
@given(st.integers(1, 256), st.integers(1, 1536), st.integers(1, 24))
def test_a_tally_is_never_off_by_more_than_half_a_foot_of_surface(quarters: int, sixteenths: int, long: int) -> None:
    thickness, width = max(4, quarters) * INCH // 4, sixteenths * INCH // 16
    off = tally(thickness, width, long * FOOT).board_feet - board_feet(thickness, width, long * FOOT)
    assert abs(off) <= Fraction(thickness, INCH) / 2
