import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.wood.moisture import MoistureError
from webapp.trade.wood.moisture_meter import Meter, Point, SpeciesPoint, WarmthPoint
from webapp.trade.wood.moisture_reading import corrected

# As the manual of a pin meter prints them (read; its address holds a brand): made for 20 °C, species looked up first.
BY_CELSIUS = (
    WarmthPoint(10, Point(2)),
    WarmthPoint(20, Point(0)),
    WarmthPoint(40, Point(-3)),
    WarmthPoint(50, Point(-4)),
)
BY_SPECIES = (SpeciesPoint("Sitka spruce", Point(1, 15)), SpeciesPoint("teak", Point(-4, 24)))
MANUAL = Meter("the pin meter", "C", BY_CELSIUS, BY_SPECIES, species_first=True)
ONLY_WARMTH = Meter("the pin meter", "C", BY_CELSIUS)

# A table of both, typed line by line: by temperature in °F and reading.
GRID = Meter(
    "the other meter",
    "F",
    tuple(
        WarmthPoint(at, Point(add, reading))
        for at, reading, add in ((50, 10, 1), (50, 20, 3), (68, 10, 0), (68, 20, 0), (86, 10, -1), (86, 20, -2))
    ),
)


def test_a_cold_board_is_kept_as_read_and_as_put_right() -> None:
    """TA12: 15 % at 50 °F is 17 % by a pin meter's table, and both are kept."""
    meter = Meter("the pin meter", "F", (WarmthPoint(50, Point(2)), WarmthPoint(68, Point(0))))
    found = corrected(15, meter, 10, None)
    assert (found.reading, found.moisture, found.for_temperature, found.table) == (15, 17, 2, "the pin meter")
    assert found.says() == "17 % by the table of the pin meter; 15 % as read."


@pytest.mark.parametrize(
    ("meter", "reading", "celsius", "species", "moisture"),
    [
        (ONLY_WARMTH, 15, 10, None, 17),
        (ONLY_WARMTH, 15, 50, None, 11),
        (MANUAL, 15, 40, "Sitka spruce", 13),
        (MANUAL, 24, 10, "teak", 22),
    ],
)
def test_the_examples_of_a_manual_come_out(
    meter: Meter, reading: float, celsius: float, species: str | None, moisture: float
) -> None:
    """TA12: four examples printed in a pin meter's manual (read; its address holds a brand)."""
    assert corrected(reading, meter, celsius, species).moisture == moisture


def test_between_two_lines_it_is_straight() -> None:
    """Plain arithmetic, by hand: halfway in reading, in temperature, and in both."""
    assert corrected(15, GRID, 10, None).for_temperature == 2
    assert corrected(10, GRID, 15, None).for_temperature == 0.5
    assert corrected(15, GRID, 15, None).for_temperature == 1
    assert corrected(15, GRID, 25, None).for_temperature == -0.75


def test_the_order_of_the_two_tables_counts() -> None:
    """The temperature first makes 12 of 15 at 40 °C, which is another line of the species than 15."""
    species = (SpeciesPoint("ash", Point(0, 10)), SpeciesPoint("ash", Point(5, 20)))
    first = Meter("pin", "C", BY_CELSIUS, species)
    assert corrected(15, first, 40, "ash").moisture == 13
    assert corrected(15, Meter("pin", "C", BY_CELSIUS, species, species_first=True), 40, "ash").moisture == 14.5


@pytest.mark.parametrize(
    ("meter", "celsius", "species", "why"),
    [
        (None, 10, None, "This meter has no table; type the one of its manual."),
        (Meter("pin", "C"), 10, None, "This meter has no table; type the one of its manual."),
        (ONLY_WARMTH, None, None, "The table of the pin meter wants the temperature of the wood."),
        (ONLY_WARMTH, 5, None, "The table of the pin meter goes from 10 to 50 °C; the wood has 5 °C."),
        (MANUAL, 10, None, "The table of the pin meter wants one of its species: Sitka spruce, teak."),
        (MANUAL, 10, "teak", "The table of the pin meter goes from 24 to 24 % here; 15 % is outside."),
    ],
)
def test_where_the_table_does_not_tell_nothing_is_put_right(
    meter: Meter | None, celsius: float | None, species: str | None, why: str
) -> None:
    """TA12: the reading is kept all the same; a reading half put right would pass for right."""
    found = corrected(15, meter, celsius, species)
    assert (found.reading, found.moisture, found.why_not) == (15, None, why)
    assert found.says() == f"15 % as read. {why}"


def test_a_reading_does_not_fall_under_nothing() -> None:
    found = corrected(2, ONLY_WARMTH, 50, None)
    assert (found.moisture, found.reading) == (None, 2)
    assert found.why_not == "The table of the pin meter brings it under 0 %."


def test_what_is_no_reading_is_refused() -> None:
    for wrong in (-1, 101, math.nan):
        with pytest.raises(MoistureError, match="as the meter shows it"):
            corrected(wrong, ONLY_WARMTH, 20, None)


@given(st.floats(10, 20), st.floats(10, 30))
@settings(max_examples=50)
def test_what_is_added_lies_between_the_lines_around(reading: float, celsius: float) -> None:
    added = corrected(reading, GRID, celsius, None).for_temperature
    assert added is not None
    assert -2 <= added <= 3
