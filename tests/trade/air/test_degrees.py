"""How a temperature reads."""

import pytest

from webapp.trade.air.degrees import degrees, difference


@pytest.mark.parametrize(
    ("celsius", "in_c", "in_f"),
    [
        (-40.0, "−40 °C", "−40 °F"),
        (-0.04, "0 °C", "31.9 °F"),
        (-17.78, "−17.8 °C", "0 °F"),
        (100.0, "100 °C", "212 °F"),
    ],
)
def test_a_temperature_reads_the_same_everywhere(celsius: float, in_c: str, in_f: str) -> None:
    """Fixed points from memory; no nought has a minus, and a whole hundred keeps its noughts."""
    assert (degrees(celsius, "C"), degrees(celsius, "F")) == (in_c, in_f)


def test_a_step_has_no_nought_of_its_scale() -> None:
    assert (difference(10.0, "C"), difference(10.0, "F")) == ("10 °C", "18 °F")
