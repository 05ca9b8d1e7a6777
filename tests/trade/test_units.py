"""Source: conversions.csv (NIST SP 811 App. B, UCUM); a second opinion by pint 0.25, whose own table is independent."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest

from tests.reference.read import rows
from webapp.trade.units import KINDS, UnitError, convert

NAMES = {"US gal": "gal", "US qt": "qt", "US pt": "pt", "US fl oz": "fl oz", "oz avoirdupois": "oz"} | {
    "ft2": "sq ft", "ft3": "cu ft", "in3": "cu in", "m2": "m²", "m3": "m³", "L": "l", "mL": "ml", "Pa": "Pa",
    "board foot": "bd ft", "board feet (MBF)": "bd ft",
}  # fmt: skip
PINT = {
    "sq in": "inch**2", "sq ft": "foot**2", "m²": "m**2", "cu in": "inch**3", "cu ft": "foot**3", "bd ft": "board_foot",
    "m³": "m**3", "gal": "gallon", "qt": "quart", "pt": "pint", "fl oz": "fluid_ounce",
    "imperial gal": "imperial_gallon", "imperial fl oz": "imperial_fluid_ounce", "mil": "thou", "lb": "pound",
    "oz": "ounce",
}  # fmt: skip
RATIOS = {
    "lb/ft3": ("lb", "kg", "cu ft", "m³"),
    "ft2/US gal": ("sq ft", "m²", "gal", "l"),
}
NOT_OURS = {"lbf/in2"}  # no pressure is worked out here; pint alone says it
NOT_THEIRS = {"cord"}  # not in pint's table


@pytest.fixture(scope="module")
def registry() -> "pint.UnitRegistry[Fraction]":
    return pint.UnitRegistry(non_int_type=Fraction)


def factors() -> list[dict[str, str]]:
    return [row for row in rows("conversions.csv") if "point" not in row["from"] and "difference" not in row["from"]]


def ours(amount: Fraction, unit: str, to: str) -> Fraction:
    if unit in RATIOS:
        top, to_top, bottom, to_bottom = RATIOS[unit]
        return amount * convert(1, top, to_top) / convert(1, bottom, to_bottom)
    return convert(amount, NAMES.get(unit, unit), NAMES.get(to, to))


def test_each_factor_is_that_of_the_table() -> None:
    """Read, computed, and two from memory (in, ft) that the read ones lean on: exact, or to the last digit given."""
    seen = {"read": 0, "computed": 0, "memory": 0}
    for row in factors():
        amount, unit = row["from"].split(" ", 1)
        if unit in NOT_OURS:
            continue
        value, places = Decimal(row["value"]), -int(Decimal(row["value"]).as_tuple().exponent)
        result = ours(Fraction(amount), unit, row["to_unit"])
        assert round(result, max(places, 0)) == Fraction(value), row
        if row["exactness"] == "exact":
            assert result == Fraction(value), row
        seen[row["how_known"]] += 1
    assert seen == {"read": 11, "computed": 9, "memory": 2}


def test_a_units_library_says_the_same(registry: "pint.UnitRegistry[Fraction]") -> None:
    """Second opinion: pint, every unit here against the first of its kind, exact."""
    for kind in KINDS:
        first = next(iter(kind))
        for unit in kind.keys() - NOT_THEIRS:
            other = registry.Quantity(Fraction(1), PINT.get(unit, unit)).to(PINT.get(first, first)).magnitude
            assert convert(1, unit, first) == other, unit


def test_the_rows_without_a_unit_of_ours_agree_with_the_library(registry: "pint.UnitRegistry[Fraction]") -> None:
    """Read by nobody here: pressure (computed). pint knows it."""
    row = next(row for row in factors() if "lbf/in2" in row["from"])
    other = registry.Quantity(Fraction(1), "psi").to("Pa").magnitude
    assert round(float(other), 9) == float(row["value"])


def test_the_rows_on_temperature_agree_with_the_library(registry: "pint.UnitRegistry[Fraction]") -> None:
    """Computed: points and differences of °F and °C. The two rules from memory are what those are computed by."""
    seen = 0
    for row in rows("conversions.csv"):
        words = row["from"].split()
        if row["how_known"] != "computed" or words[-1] not in ("point", "difference"):
            continue
        step = "delta_" if words[-1] == "difference" else ""
        to = row["to_unit"][0]
        other = registry.Quantity(Fraction(words[0]), f"{step}deg{words[1]}").to(f"{step}deg{to}").magnitude
        assert round(float(other), 10) == float(row["value"]), row
        seen += 1
    assert seen == 6


def test_a_length_is_not_a_weight() -> None:
    for unit, to in (("ft", "lb"), ("bd ft", "sq ft"), ("stone", "kg")):
        with pytest.raises(UnitError, match="cannot be shown in"):
            convert(1, unit, to)


def test_there_and_back_is_the_same() -> None:
    for kind in KINDS:
        for unit in kind:
            for to in kind:
                assert convert(convert(Decimal("7.25"), unit, to), to, unit) == Fraction(29, 4)
