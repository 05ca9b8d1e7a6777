import math

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from webapp.trade.air.dew import AirError, dew_point, humidity_at, saturation_pressure, to_celsius, to_fahrenheit

psychrolib.SetUnitSystem(psychrolib.SI)
SHOP_AIR = [(celsius, humidity) for celsius in range(5, 41) for humidity in range(20, 101, 5)]
OVER_ICE_OR_BOILING = {"T = -20 C", "T = -5 C", "T = 100 C"}  # the Magnus coefficients here are for water, up to 60 °C


def test_dew_points_come_out_as_in_the_table() -> None:
    """dew_point.csv: the Magnus column to its last digit, the published ones within what two formulas differ by."""
    for row in rows("dew_point.csv"):
        air = float(row["air_temp_c"]), float(row["rh_pct"])
        assert round(dew_point(*air), 4) == float(row["dew_point_magnus_c"]), row
        assert abs(dew_point(*air) - float(row["dew_point_ashrae_formula_c"])) < 0.03, row
    published = {row["rh_pct"]: float(row["published_dew_point_c"]) for row in rows("dew_point.csv")[:2]}
    assert round(dew_point(10, 80), 2) == published["80"] == 6.71
    assert abs(dew_point(10, 50) - published["50"]) < 0.01


def test_pressures_come_out_as_in_the_handbook() -> None:
    """psychrometrics.csv, 2017 ASHRAE Handbook ch. 1 Table 3, read: within 0.4 %; this form is 0.3 % low at 25 °C."""
    read = [row for row in rows("psychrometrics.csv") if row["quantity"] == "saturation vapour pressure"]
    used = [row for row in read if row["condition"] not in OVER_ICE_OR_BOILING]
    assert len(used) == 3
    for row in used:
        celsius = float(row["condition"].split()[2])
        assert 100 * saturation_pressure(celsius) == pytest.approx(float(row["published_value"]), rel=0.004), row


def test_the_handbook_example_comes_out() -> None:
    """psychrometrics.csv, 2017 ASHRAE Handbook ch. 1 example 1, read: 14 % at 40 °C, and what follows from it."""
    published = {row["quantity"]: row for row in rows("psychrometrics.csv") if row["quantity"].startswith("example 1")}
    humidity, dew, ratio = (
        published[f"example 1: {name}"] for name in ("relative humidity", "dew point", "humidity ratio")
    )
    printed = float(humidity["published_value"])
    assert abs(dew_point(40, 100 * printed) - float(dew["published_value"])) < float(dew["tolerance"])
    water = float(ratio["published_value"])
    vapour = 1013.25 * water / (0.621945 + water)  # the handbook's own definition of the ratio, turned round
    assert abs(vapour / saturation_pressure(40) - printed) < float(humidity["tolerance"])


def test_a_general_library_finds_the_same_dew_points() -> None:
    """Second opinion: psychrolib, the longer formulas of the ASHRAE Handbook, for the air of a shop."""
    for celsius, humidity in SHOP_AIR:
        theirs = psychrolib.GetTDewPointFromRelHum(celsius, humidity / 100)
        if theirs > 0.5:  # below, theirs is over ice
            assert abs(dew_point(celsius, humidity) - theirs) < 0.04, (celsius, humidity)


def test_a_general_library_finds_the_same_humidity_at_another_temperature() -> None:
    """Second opinion: psychrolib, by way of the pressure of the vapour."""
    for celsius, humidity in SHOP_AIR:
        vapour = psychrolib.GetVapPresFromRelHum(celsius, humidity / 100)
        theirs = 100 * psychrolib.GetRelHumFromVapPres(celsius + 8, vapour)
        assert abs(humidity_at(celsius, humidity, celsius + 8) - theirs) < 0.1, (celsius, humidity)


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "dew", "apart"), [(80, 65, 67.2, 12.8), (80, 60, 64.9, 15.1), (85, 45, 61.3, 23.7)]
)
def test_dew_points_in_fahrenheit(fahrenheit: float, humidity: float, dew: float, apart: float) -> None:
    """TA10: by the Magnus form."""
    found = to_fahrenheit(dew_point(to_celsius(fahrenheit), humidity))
    assert round(found, 1) == dew
    assert round(fahrenheit - found, 1) == apart


def test_a_temperature_changes_its_scale_exactly() -> None:
    """NIST SP 811: fixed points; each whole °F and each tenth of a °C comes back as it was."""
    assert [to_fahrenheit(celsius) for celsius in (-40, 0, 12.8, 21.5, 100)] == [-40, 32, 55.04, 70.7, 212]
    assert [to_celsius(fahrenheit) for fahrenheit in (-40, 32, 50, 55.04, 212)] == [-40, 0, 10, 12.8, 100]
    for degrees in range(-40, 213):
        assert to_fahrenheit(to_celsius(degrees)) == pytest.approx(degrees, abs=1e-13)
    for tenth in range(-400, 1000):
        assert to_celsius(to_fahrenheit(tenth / 10)) == tenth / 10


@given(st.floats(-45, 60), st.floats(1, 100), st.floats(1, 100))
@settings(max_examples=50)
def test_damper_air_never_has_the_lower_dew_point(celsius: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert dew_point(celsius, low) <= dew_point(celsius, high) <= celsius


@given(st.floats(-45, 60), st.floats(1, 100))
@settings(max_examples=50)
def test_air_cooled_to_its_dew_point_is_full(celsius: float, humidity: float) -> None:
    dew = dew_point(celsius, humidity)
    if dew >= -45:
        assert humidity_at(celsius, humidity, dew) == pytest.approx(100, abs=1e-6)


@pytest.mark.parametrize("air", [(61, 50), (-46, 50), (20, 0), (20, 101), (math.nan, 50), (20, math.nan)])
def test_air_that_cannot_be_is_refused(air: tuple[float, float]) -> None:
    with pytest.raises(AirError, match=r"Check the temperature|Read the hygrometer"):
        dew_point(*air)


def test_what_is_no_temperature_is_refused() -> None:
    for wrong in (math.nan, math.inf):
        with pytest.raises(AirError, match="Write a temperature"):
            to_fahrenheit(wrong)
