import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.wood.moisture import EQUATIONS, MoistureError, equilibrium, milling, resawing

Terms = Mapping[str, tuple[float, float, float]]
PRINTED: dict[str, Terms] = {
    unit: {
        row["parameter"]: (float(row["c0"]), float(row["c1_per_deg"]), float(row["c2_per_deg2"]))
        for row in rows("emc_equation.csv")
        if row["temp_unit"] == unit
    }
    for unit in "CF"
}


def by_hand(terms: Terms, temperature: float, humidity: float) -> float:
    """Equation 4-5 as the table of coefficients prints it, written here a second time."""
    w, k, k1, k2 = (
        constant + linear * temperature + square * temperature**2
        for constant, linear, square in (terms[name] for name in ("W", "K", "K1", "K2"))
    )
    h = humidity / 100
    kh = k * h
    return (1800 / w) * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))


def test_both_sets_of_coefficients_are_as_printed() -> None:
    """emc_equation.csv: °C read in an open library that cites FPL-RN-0268, °F from memory."""
    for unit, equation in EQUATIONS.items():
        assert [tuple(term) for term in equation] == [PRINTED[unit][name] for name in ("W", "K", "K1", "K2")]


def test_all_cells_of_the_handbook_table_come_out() -> None:
    """emc_table.csv, Wood Handbook Table 4-2, 228 cells from memory: within 0.1 % MC, by either set."""
    cells = rows("emc_table.csv")
    assert len(cells) == 228
    for cell in cells:
        fahrenheit, humidity, printed = (float(cell[name]) for name in ("temp_f", "rh_pct", "emc_table_pct"))
        assert abs(equilibrium(fahrenheit, humidity, "F") - printed) <= 0.1, cell
        assert abs(equilibrium((fahrenheit - 32) * 5 / 9, humidity, "C") - printed) <= 0.1, cell


def test_points_of_the_equation_come_out() -> None:
    """emc_points.csv, computed; 8.4 % at 140 °F and 55 % read (the 8.0 of the same page is an older table's)."""
    for row in rows("emc_points.csv"):
        celsius, fahrenheit, humidity = (float(row[name]) for name in ("temp_c", "temp_f", "rh_pct"))
        assert round(equilibrium(celsius, humidity, "C"), 4) == float(row["emc_eq_c_pct"]), row
        assert round(equilibrium(fahrenheit, humidity, "F"), 4) == float(row["emc_eq_f_pct"]), row
    assert round(equilibrium(140, 55, "F"), 1) == round(equilibrium(60, 55, "C"), 1) == 8.4


@pytest.mark.parametrize(("celsius", "humidity", "right"), [(40, 50, 8.5872), (45, 70, 11.9072)])
def test_known_mistakes_would_be_noticed(celsius: float, humidity: float, right: float) -> None:
    """Seen in public code: °F coefficients fed with °C, and K1's square term mistyped. Both are far off when warm."""
    fahrenheit = celsius * 1.8 + 32
    assert round(equilibrium(celsius, humidity, "C"), 4) == right
    assert abs(equilibrium(fahrenheit, humidity, "F") - right) < 0.015
    assert abs(by_hand(PRINTED["F"], celsius, humidity) - right) > 0.5
    mistyped = {**PRINTED["F"], "K1": (6.34, 0.000775, -0.0000453)}
    assert abs(by_hand(mistyped, fahrenheit, humidity) - equilibrium(fahrenheit, humidity, "F")) > 0.06
    assert by_hand(PRINTED["C"], celsius, humidity) == pytest.approx(equilibrium(celsius, humidity, "C"), abs=1e-12)


@given(st.sampled_from("CF"), st.floats(30, 60), st.floats(5, 95), st.floats(5, 95))
@settings(max_examples=50)
def test_damper_air_never_makes_drier_wood(unit: str, temperature: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert equilibrium(temperature, low, unit) <= equilibrium(temperature, high, unit)


@given(st.floats(-1.1, 60), st.floats(5, 95))
@settings(max_examples=50)
def test_both_units_say_the_same_of_one_air(celsius: float, humidity: float) -> None:
    assert abs(equilibrium(celsius, humidity, "C") - equilibrium(celsius * 1.8 + 32, humidity, "F")) < 0.02


@pytest.mark.parametrize(
    "air",
    [(68, 50, "C"), (20, 50, "F"), (-2, 50, "C"), (141, 50, "F"), (20, 4.9, "C"), (20, 96, "C"), (math.nan, 50, "C"),
     (20, math.nan, "C"), (20, 50, "K")],
)  # fmt: skip
def test_air_outside_the_table_is_refused(air: tuple[float, float, str]) -> None:
    """A room in °F given as °C is outside, and so is one in °C given as °F."""
    with pytest.raises(MoistureError, match=r"known here|Say whether"):
        equilibrium(*air)


@pytest.mark.parametrize(("reading", "apart", "may"), [(12.0, 4.0, False), (10.6, 2.6, False), (9.9, 1.9, True)])
def test_boards_may_be_milled_within_two_points(reading: float, apart: float, may: bool) -> None:
    """TA12: a house rule in use; boards bought at 12 %, the shop's own at 8 %."""
    found = milling(reading, 8)
    assert (found.apart, found.may) == (apart, may)


def test_the_limit_itself_does_and_drier_wood_counts_too() -> None:
    """TA12: 2 points are within 2 points, whatever binary fractions make of 9.9 less 7.9."""
    assert milling(9.9, 7.9).may
    assert milling(9.95, 7.9).says() == (
        "9.95 % is 2.05 points over the shop's 7.9 %: wait until it reads 9.9 % or less."
    )
    assert milling(5, 8).says() == "5 % is 3 points under the shop's 8 %: wait until it reads 6 % or more."
    assert milling(10.6, 8, within=3).may


def test_resawing_warns_while_the_core_may_be_wet() -> None:
    """TA12: on day 5 the skin is near 8 and the core still near 12."""
    found = resawing(12, 10.6, 8)
    assert (found.skin, found.core, found.may) == (8, 12, False)
    assert "the halves cup" in found.says()
    assert resawing(12, 9.9, 8).says() == "Skin and core are near enough to each other to resaw."


def test_what_is_no_moisture_is_refused() -> None:
    for wrong in (-1, 101, math.nan):
        with pytest.raises(MoistureError, match="as the meter shows it"):
            milling(wrong, 8)
        with pytest.raises(MoistureError, match="as the meter shows it"):
            resawing(wrong, 8, 8)
    with pytest.raises(MoistureError, match="how many points"):
        milling(9, 8, within=-1)
