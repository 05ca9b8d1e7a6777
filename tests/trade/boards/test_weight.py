from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.boards.weight import GRAVITIES, WETTEST, Gravity, WeightError, density, gravity, weight
from webapp.trade.units import convert

TABLE = rows("specific_gravity.csv")


def test_each_wood_has_the_gravity_of_the_table_within_a_hundredth() -> None:
    """From memory (Wood Handbook Table 5-3, not seen): so within 0.01, and no proof of the figures themselves."""
    assert len(TABLE) == len(GRAVITIES) == 30
    for row in TABLE:
        assert row["how_known"] == "mixed"
        wood = gravity(row["species"])
        assert abs(wood.green - 100 * float(row["sg_green_volume"])) <= 1.001, row
        assert abs(wood.at_12 - 100 * float(row["sg_12pct_volume"])) <= 1.001, row


def test_weights_follow_from_gravity_as_the_handbook_has_it() -> None:
    """Computed: weight = 1000 G (1 + MC/100) kg/m³. In pounds the table takes 62.4 for 62.43: 0.05 % apart."""
    for row in TABLE:
        listed = Gravity(round(100 * float(row["sg_green_volume"])), round(100 * float(row["sg_12pct_volume"])))
        heavy = density(listed, 12)
        assert float(heavy) == float(row["density_12pct_kg_m3"]), row
        per_cubic_foot = convert(heavy, "kg", "lb") / convert(1, "m³", "cu ft")
        assert float(per_cubic_foot) == pytest.approx(float(row["density_12pct_lb_ft3"]), rel=8e-4)
        pounds = convert(weight(1, listed, 12), "kg", "lb")
        assert float(pounds) == pytest.approx(float(row["weight_12pct_lb_per_board_foot"]), rel=8e-4)


def test_twelve_board_feet_are_a_cubic_foot() -> None:
    oak = gravity("oak, white")
    assert weight(12, oak, 8) == density(oak, 8) * convert(1, "cu ft", "m³")


def test_green_wood_is_its_green_gravity_and_its_water() -> None:
    oak = gravity("oak, northern red")
    assert density(oak, 30) == Fraction("0.56") * 1000 * Fraction("1.30")
    assert density(oak, 80) == Fraction("0.56") * 1000 * Fraction("1.80")


def test_a_wood_nobody_weighed_gets_no_figure() -> None:
    with pytest.raises(WeightError, match=r"No weight is known for “bubinga”\. Weigh a board of it\."):
        gravity("bubinga")


def test_what_cannot_be_is_refused() -> None:
    oak = gravity("oak, white")
    for moisture in (-1, WETTEST + 1):
        with pytest.raises(WeightError, match="Look at the reading again"):
            density(oak, moisture)
    with pytest.raises(WeightError, match="less than 0 board feet"):
        weight(-1, oak, 8)


@settings(max_examples=60)
@given(st.sampled_from(sorted(GRAVITIES)), st.integers(0, WETTEST - 1))
def test_a_cubic_metre_of_wetter_wood_is_heavier_and_its_board_too(species: str, moisture: int) -> None:
    wood = gravity(species)
    assert density(wood, moisture) < density(wood, moisture + 1)
    assert wood.green <= wood.at_12
