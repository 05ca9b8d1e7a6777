import math

import pytest

from tests.reference.read import rows
from webapp.trade.air.dew import AirError, dew_point, to_celsius
from webapp.trade.air.rules import (
    COATING_85,
    GAP_RULES,
    HUMIDITY_RULES,
    LACQUER_20_F,
    LACQUER_65,
    SURFACE_3_C,
    SURFACE_5_F,
    HumidityRule,
    gap,
    humidity_limit,
)


def test_the_least_surface_comes_out_as_in_the_table() -> None:
    """dew_point.csv, computed: the surface wanted by either rule, to the last digit of the table."""
    for row in rows("dew_point.csv"):
        dew = dew_point(float(row["air_temp_c"]), float(row["rh_pct"]))
        assert round(dew + SURFACE_3_C.celsius, 4) == float(row["min_surface_c_iso_plus_3C"]), row
        assert abs(dew + SURFACE_5_F.celsius - float(row["min_surface_c_astm_plus_5F"])) < 0.0001, row


def test_the_rules_are_those_of_the_table() -> None:
    """psychrometrics.csv: 3 °C and 85 % read second-hand, 5 °F from memory; so all say they are weak or recalled."""
    wanted = [float(row["published_value"]) for row in rows("psychrometrics.csv") if row["quantity"] == "coating rule"]
    assert wanted == [SURFACE_3_C.celsius, COATING_85.highest, pytest.approx(SURFACE_5_F.celsius * 9 / 5)]
    assert {rule.how for rule in (*GAP_RULES, *HUMIDITY_RULES)} == {"weak", "memory"}
    assert all(rule.source for rule in (*GAP_RULES, *HUMIDITY_RULES))


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "dry_enough", "far_enough"),
    [(80, 65, True, False), (80, 60, True, False), (85, 45, True, True)],
)
def test_lacquer_wants_both_rules(fahrenheit: float, humidity: float, dry_enough: bool, far_enough: bool) -> None:
    """TA10: at 80 °F and 60 % the humidity passes and the dew point does not; 65 % itself is not over 65 %."""
    celsius = to_celsius(fahrenheit)
    assert humidity_limit(humidity, LACQUER_65).holds is dry_enough
    assert gap(celsius, celsius, humidity, LACQUER_20_F).holds is far_enough


def test_it_says_which_rule_and_by_how_much() -> None:
    """TA10: in the unit the maker reads."""
    air = to_celsius(80)
    assert gap(air, air, 60, LACQUER_20_F).says("F") == (
        "The dew point is 64.9 °F, 15.14 °F under 80 °F; more than 20 °F is wanted. Warm it or dry the air."
    )
    assert humidity_limit(66, LACQUER_65).says() == (
        "Humidity 66 %; at most 65 % is wanted. Warm the room or dry the air, and try a scrap first."
    )
    assert humidity_limit(60, LACQUER_65).says() == "Humidity 60 %; at most 65 % is wanted."


def test_the_two_rules_for_a_surface_are_not_the_same() -> None:
    """2.9 °C above the dew point is enough for 5 °F (2.78 °C) and not for 3 °C."""
    surface = dew_point(20, 65) + 2.9
    assert not gap(surface, 20, 65, SURFACE_3_C).holds
    assert gap(surface, 20, 65, SURFACE_5_F).holds


def test_the_edge_of_a_rule() -> None:
    """At least 3 °C takes 3 °C itself; more than 20 °F does not take 20 °F."""
    dew = dew_point(20, 65)
    assert gap(dew + 3, 20, 65, SURFACE_3_C).holds
    assert not gap(dew + 100 / 9, 20, 65, LACQUER_20_F).holds
    assert gap(dew + 100 / 9 + 0.001, 20, 65, LACQUER_20_F).holds


def test_a_cold_board_in_a_warm_damp_room_is_wet() -> None:
    """20 °C and 65 % has its dew point at 13.2 °C; wood just in from the cold is below it."""
    cold = gap(10, 20, 65, SURFACE_3_C)
    assert cold.gap < 0
    assert not cold.holds
    assert cold.says("C") == (
        "The dew point is 13.2 °C, so water comes out at 10 °C; at least 3 °C is wanted. Warm it or dry the air."
    )


def test_a_label_makes_its_own_limit() -> None:
    label = HumidityRule("label of this varnish", 80, "label", "read")
    assert humidity_limit(85, label).over == 5
    assert not humidity_limit(85, label).holds


def test_what_is_no_reading_is_refused() -> None:
    for humidity in (-1, 101, math.nan):
        with pytest.raises(AirError, match="hygrometer"):
            humidity_limit(humidity, LACQUER_65)
    for surface in (math.nan, 500):
        with pytest.raises(AirError, match="surface"):
            gap(surface, 20, 50, SURFACE_3_C)
