"""Exact factors between the units a shop buys, measures and weighs in.

A gallon, quart, pint and fluid ounce are those of the United States; the imperial ones say so.

Not modelled: temperatures, whose points and steps differ; log rules; trade sizes such as nails in pennies.
"""

from decimal import Decimal
from fractions import Fraction

Number = int | Fraction | Decimal

NANOMETRES = {"in": 25_400_000, "ft": 304_800_000, "mm": 1_000_000, "cm": 10_000_000, "m": 1_000_000_000}

INCH = Fraction(NANOMETRES["in"], NANOMETRES["m"])
FOOT = 12 * INCH
GALLON = 231 * INCH**3
IMPERIAL_GALLON = Fraction(454_609, 10**8)
GRAIN = Fraction(6_479_891, 10**11)

LENGTHS = {unit: Fraction(size, NANOMETRES["m"]) for unit, size in NANOMETRES.items()} | {"mil": INCH / 1000}
AREAS = {"sq in": INCH**2, "sq ft": FOOT**2, "m²": Fraction(1)}
VOLUMES = {
    "cu in": INCH**3,
    "cu ft": FOOT**3,
    "bd ft": 144 * INCH**3,
    "cord": 128 * FOOT**3,
    "m³": Fraction(1),
    "l": Fraction(1, 1_000),
    "ml": Fraction(1, 1_000_000),
    "gal": GALLON,
    "qt": GALLON / 4,
    "pt": GALLON / 8,
    "fl oz": GALLON / 128,
    "imperial gal": IMPERIAL_GALLON,
    "imperial fl oz": IMPERIAL_GALLON / 160,
}
MASSES = {"kg": Fraction(1), "g": Fraction(1, 1_000), "lb": 7_000 * GRAIN, "oz": 7_000 * GRAIN / 16}
KINDS = (LENGTHS, AREAS, VOLUMES, MASSES)


class UnitError(ValueError):
    """Two units that do not measure the same; the text says which."""


def convert(amount: Number, unit: str, to: str) -> Fraction:
    """Return an amount in another unit of the same kind.

    Takes:   a finite amount; the unit it is in; the unit wanted. Both of LENGTHS, AREAS, VOLUMES or MASSES.
    Returns: the amount in the unit wanted, exact.
    Raises:  UnitError for a unit that is not known or two that do not measure the same.
    Source:  NIST SP 811 App. B (inch and foot from memory); board foot, US and imperial gallon, pound, ounce, cord:
             https://github.com/ucum-org/ucum ucum-essence.xml

    >>> convert(1, "gal", "cu in"), float(convert(1, "lb", "g")), float(convert(1, "bd ft", "m³"))
    (Fraction(231, 1), 453.59237, 0.002359737216)
    """
    for kind in KINDS:
        if unit in kind and to in kind:
            return Fraction(amount) * kind[unit] / kind[to]
    raise UnitError(f"“{unit}” cannot be shown in “{to}”. Choose two units that measure the same.")
