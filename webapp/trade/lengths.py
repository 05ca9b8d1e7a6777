"""Lengths as makers write them, exact, and how to show them again.

The house unit is the nanometre: 1/64 in is 396,875 nm and 1 mm is 1,000,000 nm, so inch fractions and millimetres are
both whole. What is not whole (1/3 in) keeps its exact fraction beside the rounded one, so that sums come out exact.
What reads here once is read for ever: rows of a shop keep what was typed and are read again from it.

Not modelled: negative lengths as input, threads (1/4-20), yards, and what a tolerance means.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.numerals import NumberError, half_up, read_decimal
from webapp.trade.rulers import METRIC_PLACES, LengthError, Nearest, check_unit, nearest, show, show_decimal
from webapp.trade.units import NANOMETRES

__all__ = [
    "FARTHEST",
    "NANOMETRES",
    "Length",
    "LengthError",
    "Nearest",
    "nearest",
    "read",
    "show",
    "show_decimal",
    "total",
]

LONGEST = 40
FARTHEST = 1_000 * NANOMETRES["m"]
FINEST_PLACES = 12

EXAMPLE = "Write it like 1 1/4, 3/4 in or 19 mm."
TABLE = str.maketrans(
    dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " ")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-")
    | dict.fromkeys("\u2044\u2215", "/")
    | dict.fromkeys("\u2018\u2019\u2032\u02b9\u00b4`", "'")
    | dict.fromkeys("\u201c\u201d\u2033\u02ba", '"')
)
WORDS = {
    "in": r'"|\'\'|inches|inch|ins?\.?',
    "ft": r"'|feet|foot|ft\.?",
    "mm": r"millimet(?:er|re)s?|mm",
    "cm": r"centimet(?:er|re)s?|cm",
    "m": r"met(?:er|re)s?|m",
}
NUMBER = r"(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9.,]*[0-9]"
GROUPED = r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?"
UNIT = "|".join(WORDS.values())
ONE = re.compile(rf"(?P<number>{NUMBER}|(?P<grouped>{GROUPED}))(?:[ -]?(?P<unit>{UNIT}))?")
# Drawings part feet and inches by a dash; " -3" is left out, for it could take 3 in away.
FEET_AND_INCHES = re.compile(
    rf"(?P<feet>[0-9]+)[ -]?(?:{WORDS['ft']})(?: - |- |[ -])?(?P<number>{NUMBER})(?:[ -]?(?P<unit>{WORDS['in']}))?"
)
FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
QUARTERS = re.compile(r"([0-9]{1,2})/4")
THREAD = re.compile(r"[0-9]+/[0-9]+-[0-9]+")
SEVERAL = re.compile(r".*[0-9\"'a-z] ?[x\u00d7] ?[0-9].*|[0-9].* by [0-9].*")
# ½ and the like, raised over lowered digits (³⁄₄), and the one over lowered digits (⅟₁₆)
COMPOSED = re.compile(
    "[\u00bc-\u00be\u2150-\u215e\u2189]|"
    "(?:[\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+[\u2044\u2215/]|\u215f)[\u2080-\u2089]+"
)


@dataclass(frozen=True)
class Length:
    """A length and how it was written: `entered` always says its unit (or quarters), so it can be read again alone."""

    nanometres: int
    entered: str
    unit: str
    exact: Fraction  # nanometres, not rounded
    nominal: bool = False  # a lumber thickness in quarters of an inch: 8/4 is sold as 2 in and measures what it does


def read(text: str, default_unit: str, *, nominal: bool = False) -> Length:
    """Return the length that was typed.

    Takes:   what was typed; the unit meant where none is written (in, ft, mm, cm or m); whether the field takes lumber
             thicknesses in quarters (4/4, 8/4).
    Returns: a Length; its nanometres rounded half up, its `exact` not.
    Raises:  LengthError for what is empty, no length, under 0, over 1 km, ambiguous (1,234) or a thread (1/4-20).
    Source:  factors NIST SP 811 App. B (1 in = 25.4 mm); the ways of writing are common practice.

    >>> read("2' 3-1/2\\"", "in").nanometres, read("1¼", "in").entered, read("8/4", "in", nominal=True).entered
    (698500000, '1¼ in', '8/4')
    """
    check_unit(default_unit)
    kept = " ".join(text.split())
    _check_span(kept)
    plain = _plain(kept)
    if nominal and (quarters := QUARTERS.fullmatch(plain)) and int(quarters[1]) >= 4:
        return _length(Fraction(int(quarters[1]), 4), "in", kept, nominal=True)
    if both := FEET_AND_INCHES.fullmatch(plain):
        inches = 12 * int(both["feet"]) + _number(both["number"], kept)
        return _length(inches, "in", kept if both["unit"] else f"{kept} in")
    one = ONE.fullmatch(plain)
    if one is None:
        raise LengthError(_why_not(kept, plain))
    unit = _unit_of(one["unit"]) if one["unit"] else default_unit
    if one["grouped"] and unit not in METRIC_PLACES:
        raise LengthError(_why_not(kept, plain))
    if one["unit"]:
        return _length(_number(one["number"], kept), unit, kept)
    if "/" in plain and unit in METRIC_PLACES:
        raise LengthError(f"“{kept}” of what? Write {kept} in, or the size in {unit}.")
    return _length(_number(one["number"], kept), unit, f"{kept} {unit}")


def total(lengths: Iterable[Length]) -> Fraction:
    """Return the exact sum of lengths, whatever units they were written in.

    Takes:   any number of lengths.
    Returns: nanometres, not rounded; 0 for no lengths. `show` takes it as it is.
    Raises:  nothing.
    Source:  plain arithmetic.

    >>> show(total([read("1/3 ft", "in")] * 3), "ft"), show(total([read("1/3", "in")] * 3), "in")
    ('1 ft', '1 in')
    """
    return sum((length.exact for length in lengths), Fraction(0))


def _check_span(text: str) -> None:
    if len(text) > LONGEST:
        raise LengthError(f"“{text[: LONGEST - 1]}…” is too long for a length. {EXAMPLE}")


def _plain(kept: str) -> str:
    """The same length in ASCII, so that one grammar reads every way of writing it."""
    text = COMPOSED.sub(_spelt, kept)
    text = " ".join(text.translate(TABLE).lower().split())
    return re.sub(r" ?/ ?", "/", text)


def _spelt(composed: re.Match[str]) -> str:
    before = composed.string[: composed.start()][-1:]
    # Without the space 1¼ would be read as 11/4, and ¼5 as 1/45.
    return (" " if before.isdigit() else "") + unicodedata.normalize("NFKC", composed[0]) + " "


def _number(number: str, kept: str) -> Fraction:
    fraction = FRACTION.fullmatch(number)
    if fraction is None:
        try:
            return Fraction(read_decimal(number, FINEST_PLACES))
        except NumberError as error:
            raise LengthError(str(error)) from None
    whole, top, bottom = int(fraction["whole"] or 0), int(fraction["top"]), int(fraction["bottom"])
    if bottom == 0:
        raise LengthError(f"“{kept}” is divided by 0. Write a fraction like 3/4.")
    if fraction["whole"] and top >= bottom:
        raise LengthError(f"In “{kept}” the fraction is not under 1. {EXAMPLE}")
    return whole + Fraction(top, bottom)


def _length(size: Fraction, unit: str, entered: str, *, nominal: bool = False) -> Length:
    _check_span(entered)
    exact = size * NANOMETRES[unit]
    if exact > FARTHEST:
        raise LengthError(f"“{entered}” is longer than 1 km. Check the number and its unit.")
    return Length(half_up(exact), entered, unit, exact, nominal)


def _unit_of(word: str) -> str:
    return next(unit for unit, words in WORDS.items() if re.fullmatch(words, word))


def _why_not(kept: str, plain: str) -> str:
    if not kept:
        return f"Write a length. {EXAMPLE}"
    if any(sign.isdigit() and not sign.isascii() for sign in plain):
        return "Write the digits as 0 to 9."
    if plain.startswith("-"):
        return "A length cannot be less than 0. Write it without the minus sign."
    if THREAD.fullmatch(plain):
        return f"“{kept}” is a thread, not a length. Write the length alone, like {plain.rsplit('-', 1)[0]}."
    if SEVERAL.fullmatch(plain):
        return f"“{kept}” is more than one size. Write one length, like 3/4 in."
    return f"“{kept}” is not a length. {EXAMPLE}"
