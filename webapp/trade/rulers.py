"""How a length is shown: on a rule with its fractions, in decimals, in millimetres; and what it is off by.

Not modelled: rules in tenths of an inch, yards.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.numerals import half_up
from webapp.trade.units import NANOMETRES

METRIC_PLACES = {"mm": 2, "cm": 3, "m": 5}  # down to a hundredth of a millimetre
DECIMAL_PLACES = METRIC_PLACES | {"in": 3, "ft": 4}
FINEST_RULE = 64


class LengthError(ValueError):
    """A length that cannot be read or shown; the text says what to write."""


@dataclass(frozen=True)
class Nearest:
    """The nearest mark of a rule: inches, and the nanometres the length is longer than it (shorter: under 0)."""

    inches: Fraction
    error: Fraction


def nearest(nanometres: int | Fraction, denominator: int) -> Nearest:
    """Return the nearest mark of an inch rule, and by how much the length misses it.

    Takes:   nanometres, under 0 too; the finest division of the rule, 16 for sixteenths.
    Returns: a Nearest; exactly between two marks the one farther from 0.
    Raises:  LengthError for a denominator under 1.
    Source:  plain arithmetic; 1 in = 25.4 mm, NIST SP 811 App. B.

    >>> nearest(19_000_000, 16)
    Nearest(inches=Fraction(3, 4), error=Fraction(-50000, 1))
    """
    if denominator < 1:
        raise LengthError("The finest fraction of an inch must be 1/1 or finer.")
    exact = Fraction(nanometres)
    mark = Fraction(half_up(exact * denominator / NANOMETRES["in"]), denominator)
    return Nearest(mark, exact - mark * NANOMETRES["in"])


def show(nanometres: int | Fraction, unit: str, denominator: int = FINEST_RULE) -> str:
    """Return a length as a maker reads it, its unit always said.

    Takes:   nanometres, under 0 too (a difference); in, ft, mm, cm or m; the finest fraction of an inch to show.
    Returns: inches and feet as reduced fractions, with what they are off by where they are not exact: in inches where
             that is a whole number of 64ths, else in millimetres. Metric to a hundredth of a millimetre, with "about"
             where that is not exact.
    Raises:  LengthError for another unit or a denominator under 1.
    Source:  factors NIST SP 811 App. B.

    >>> show(698_500_000, "in"), show(19_000_000, "in"), show(20_637_500, "mm"), show(20_637_500, "in", 8)
    ('27 1/2 in', '3/4 in less 0.05 mm', 'about 20.64 mm', '7/8 in less 1/16 in')
    """
    check_unit(unit)
    found = nearest(nanometres, denominator)
    if unit in METRIC_PLACES:
        return show_decimal(nanometres, unit)
    size = abs(found.inches)
    text = _feet_and_inches(size) if unit == "ft" else f"{_mixed(size)} in"
    return f"{'-' if found.inches < 0 else ''}{text}{_off_by(found.error)}"


def show_decimal(nanometres: int | Fraction, unit: str, places: int | None = None) -> str:
    """Return a length as a decimal, as calipers and drawings have it.

    Takes:   nanometres, under 0 too; in, ft, mm, cm or m; the decimals at most, none for what is usual: thousandths of
             an inch, ten-thousandths of a foot, hundredths of a millimetre.
    Returns: text without needless zeros, with "about" where it is not exact.
    Raises:  LengthError for another unit or places under 0.
    Source:  factors NIST SP 811 App. B.

    >>> show_decimal(20_637_500, "in"), show_decimal(20_637_500, "in", 4), show_decimal(698_500_000, "ft")
    ('about 0.813 in', '0.8125 in', 'about 2.2917 ft')
    """
    check_unit(unit)
    places = DECIMAL_PLACES[unit] if places is None else places
    if places < 0:
        raise LengthError("Give 0 decimals or more.")
    steps = Fraction(nanometres) * 10**places / NANOMETRES[unit]
    shown = half_up(steps)
    return f"{'' if shown == steps else 'about '}{_plain(shown, places)} {unit}"


def check_unit(unit: str) -> None:
    """Return nothing for a unit of length.

    Takes:   what should be in, ft, mm, cm or m.
    Returns: nothing.
    Raises:  LengthError for anything else.
    Source:  the units makers work in, common practice.

    >>> check_unit("ft")
    """
    if unit not in NANOMETRES:
        raise LengthError(f"“{unit}” is not a unit of length here. Use in, ft, mm, cm or m.")


def _feet_and_inches(inches: Fraction) -> str:
    whole, rest = divmod(inches, 12)
    parts = ([f"{whole} ft"] if whole else []) + ([f"{_mixed(rest)} in"] if rest else [])
    return " ".join(parts) or "0 ft"


def _mixed(size: Fraction) -> str:
    whole, rest = divmod(size, 1)
    return " ".join([str(whole)] * bool(whole or not rest) + [str(rest)] * bool(rest))


def _off_by(error: Fraction) -> str:
    if error == 0:
        return ""
    inches = abs(error) / NANOMETRES["in"]
    size = f"{_mixed(inches)} in" if FINEST_RULE % inches.denominator == 0 else _millimetres(abs(error))
    return f" {'plus' if error > 0 else 'less'} {size}"


def _millimetres(error: Fraction) -> str:
    return f"{_plain(max(1, half_up(error / 1_000)), 3)} mm"


def _plain(steps: int, places: int) -> str:
    whole, rest = divmod(abs(steps), 10**places)
    decimals = f"{rest:0{places}d}".rstrip("0") if places else ""
    return f"{'-' if steps < 0 else ''}{whole}{'.' if decimals else ''}{decimals}"
