"""Sizes in what is said, in the shop's own units."""

import pytest

from webapp.invented.sizes import in_units


@pytest.mark.parametrize(
    ("text", "metric", "us"),
    [
        ("{330} clear", "330 mm clear", "13 in clear"),
        ("off by {0.4}", "off by 0.4 mm", "off by 1/64 in"),
        ("{1300} wide", "1,300 mm wide", "51 3/16 in wide"),
        ("{19.5C}", "19.5 °C", "67 °F"),
        ("at 12° it stands", "at 12° it stands", "at 12° it stands"),
    ],
)
def test_a_size_is_told_in_the_units_of_the_shop(text: str, metric: str, us: str) -> None:
    assert in_units(text, "mm", "C") == metric
    assert in_units(text, "in", "F") == us
