from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.boards.dressed import (
    HARDWOOD,
    READ,
    SOFTWOOD_THICKNESS,
    SOFTWOOD_WIDTH,
    hardwood,
    hardwood_for,
    softwood_thickness,
    softwood_width,
)
from webapp.trade.boards.lumber import INCH, LumberError
from webapp.trade.lengths import NANOMETRES, read

TABLE = rows("lumber_sizes.csv")
RECALLED = NANOMETRES["in"] // 16  # a row from memory may be off by a sixteenth before it is called wrong


def millimetres(text: str) -> int:
    return int(Decimal(text) * NANOMETRES["mm"])


def check(size: int | None, row: dict[str, str], column: str) -> None:
    """Read rows exact, in millimetres and as the inches say; rows from memory within a sixteenth."""
    if not row[f"{column}_in"]:
        assert size is None, row
        return
    assert size is not None, row
    assert read(row[f"{column}_in"], "in").nanometres == millimetres(row[f"{column}_mm_exact"]), row
    off = abs(size - millimetres(row[f"{column}_mm_exact"]))
    assert off == 0 if row["how_known"] == "read" else off <= RECALLED, row


def test_hardwood_measures_what_the_trade_rule_says() -> None:
    """Source: hardwood trade rule (lumber_sizes.csv: seven read, 10/4 from memory)."""
    seen = []
    for row in (row for row in TABLE if row["group"] == "hardwood thickness"):
        nominal = Fraction(row["nominal"]) * INCH
        sizes = hardwood(nominal)
        if nominal >= INCH:
            assert read(row["nominal"], "in", nominal=True).exact == nominal
        check(sizes.rough, row, "rough")
        check(sizes.s1s, row, "s1s")
        check(sizes.s2s, row, "s2s_or_dressed")
        assert sizes.how_known == row["how_known"]
        seen.append(row["how_known"])
    assert (seen.count("read"), seen.count("memory"), len(HARDWOOD)) == (7, 1, 8)


def test_softwood_measures_what_the_standard_says() -> None:
    """Source: PS 20 as restated by its keepers (lumber_sizes.csv: six read, nine from memory)."""
    seen = []
    for row in (row for row in TABLE if row["group"] != "hardwood thickness"):
        number, side = row["nominal"].split()
        nominal = read(number, "in").nanometres
        size = softwood_thickness(nominal) if side == "thickness" else softwood_width(nominal)
        check(size.dressed, row, "s2s_or_dressed")
        assert size.how_known == row["how_known"]
        seen.append(row["how_known"])
    assert (seen.count("read"), seen.count("memory")) == (6, 9)
    assert len(SOFTWOOD_THICKNESS) + len(SOFTWOOD_WIDTH) == len(seen)


def test_a_2_x_4_is_1_1_2_by_3_1_2() -> None:
    """Source: NIST news page on lumber measurement, read (handbook_facts.csv)."""
    assert softwood_thickness(2 * INCH).dressed == read("1 1/2", "in").nanometres
    assert softwood_width(4 * INCH).dressed == read("3 1/2", "in").nanometres


def test_a_size_nobody_gives_a_figure_for_gets_none() -> None:
    with pytest.raises(LumberError, match=r"No surfaced thickness is known for that\. Known are 3/4, 4/4"):
        hardwood(read("7/4", "in", nominal=True).nanometres)
    with pytest.raises(LumberError, match="No dressed thickness is known"):
        softwood_thickness(5 * INCH)
    with pytest.raises(LumberError, match="No dressed width is known"):
        softwood_width(7 * INCH)


def test_the_thinnest_stock_that_is_thick_enough() -> None:
    """Source: the table above; 13/16 in is what 4/4 leaves, and a hair more needs 5/4."""
    assert hardwood_for(read("13/16", "in").nanometres) == 4
    assert hardwood_for(read("13/16", "in").nanometres + 1) == 5
    assert hardwood_for(read("20 mm", "in").nanometres) == 4
    assert hardwood_for(read("1/2", "in").nanometres) == 3
    for none in (0, -1):
        with pytest.raises(LumberError, match="over 0"):
            hardwood_for(none)
    with pytest.raises(LumberError, match="Laminate it"):
        hardwood_for(4 * INCH)


@settings(max_examples=50)
@given(st.integers(1, 240))
def test_no_thinner_stock_would_have_done(sixty_fourths: int) -> None:
    thickness = sixty_fourths * INCH // 64
    quarters = hardwood_for(thickness)
    assert HARDWOOD[quarters].s2s >= thickness
    assert all(sizes.s2s < thickness for thinner, sizes in HARDWOOD.items() if thinner < quarters)


def test_surfacing_takes_and_never_gives() -> None:
    for sizes in HARDWOOD.values():
        assert sizes.rough > (sizes.s1s or sizes.rough - 1) > sizes.s2s
    for table in (SOFTWOOD_THICKNESS, SOFTWOOD_WIDTH):
        assert all(size.dressed < nominal for nominal, size in table.items())
    assert READ == "read"
