import math

import pytest

from tests.reference.read import rows
from webapp.trade.wood.moisture import MoistureError
from webapp.trade.wood.moisture_meter import Meter, Point, SpeciesPoint, WarmthPoint, handbook_rule
from webapp.trade.wood.moisture_reading import corrected


@pytest.mark.parametrize(
    "points",
    [(Point(2), Point(1)), (Point(2, 15), Point(1, 15)), (Point(2), Point(1, 15))],
)
def test_a_table_that_says_two_things_is_refused(points: tuple[Point, ...]) -> None:
    with pytest.raises(MoistureError, match="two things for one reading"):
        Meter("pin", "F", tuple(WarmthPoint(50, point) for point in points))
    with pytest.raises(MoistureError, match="two things for one reading"):
        Meter("pin", "F", by_species=tuple(SpeciesPoint("cherry", point) for point in points))


def test_a_table_without_numbers_or_unit_is_refused() -> None:
    with pytest.raises(MoistureError, match="C or F"):
        Meter("pin", "K")
    with pytest.raises(MoistureError, match="without a temperature"):
        Meter("pin", "C", (WarmthPoint(math.nan, Point(1)),))
    for point in (Point(math.nan), Point(1, math.inf)):
        with pytest.raises(MoistureError, match="without a number"):
            Meter("pin", "C", (WarmthPoint(20, point),))


def test_a_meter_knows_its_temperatures_and_species_in_order() -> None:
    warmth = tuple(WarmthPoint(at, Point(0, reading)) for at in (68, 50) for reading in (10, 15))
    species = tuple(SpeciesPoint(name, Point(1, reading)) for name in ("oak", "ash") for reading in (10, 15))
    meter = Meter("pin", "F", warmth, species)
    assert meter.temperatures == (50, 68)
    assert meter.species == ("oak", "ash")


def test_the_rough_rule_is_the_handbooks() -> None:
    """handbook_facts.csv, ch. 13, read: 0.5 for each 10 °F (5.6 °C), added when colder."""
    row = next(row for row in rows("handbook_facts.csv") if row["item"] == "conductance meter temperature correction")
    assert row["how_known"] == "read"
    assert row["value"].startswith("about 0.5 % MC per 5.6 C (10 F)")
    rule = handbook_rule(70)
    for fahrenheit, added in ((60, 0.5), (70, 0), (80, -0.5), (40, 1.5)):
        found = corrected(12, rule, (fahrenheit - 32) * 5 / 9, None)
        assert found.for_temperature == added, fahrenheit
    with pytest.raises(MoistureError, match="32 to 122"):
        handbook_rule(0)
