"""Sizes and temperatures in what is said: written once, in millimetres and °C, told in the shop's own units."""

import re
from fractions import Fraction

MM_PER_INCH = Fraction(254, 10)
SIZE = re.compile(r"\{([\d.]+)(C?)\}")
FINE, COARSE = 64, 16  # parts of an inch: a gap is measured finer than a table
SMALL = 10


def in_units(text: str, length: str, temperature: str) -> str:
    """Return a text with {sizes} in mm and {degrees C} told in these units.

    >>> in_units("{340} deep, {0.4} off, {19.5C}", "in", "F")
    '13 3/8 in deep, 1/64 in off, 67 °F'
    >>> in_units("{340} deep, {19.5C}", "mm", "C")
    '340 mm deep, 19.5 °C'
    """
    return SIZE.sub(lambda found: _degrees(found[1], temperature) if found[2] else _size(found[1], length), text)


def _degrees(celsius: str, unit: str) -> str:
    return f"{celsius} °C" if unit == "C" else f"{round(float(celsius) * 1.8 + 32)} °F"


def _size(millimetres: str, unit: str) -> str:
    if unit == "mm":
        return f"{float(millimetres):,g} mm"
    size = Fraction(millimetres)
    parts = FINE if size < SMALL else COARSE
    whole, rest = divmod(Fraction(round(size / MM_PER_INCH * parts), parts), 1)
    return f"{whole or ''} {rest or ''}".strip() + " in"
