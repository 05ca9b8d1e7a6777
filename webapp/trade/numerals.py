"""Numbers as people type them, and the one rounding rule of the house.

A point is the decimal mark. A comma is read as one too where it can mean nothing else; where it could also part the
thousands the maker is asked, because a price that is wrong by a thousand must not slip through.

Not modelled: points between thousands (1.234,56), powers of ten, digits of other scripts. They are refused.
"""

import re
from decimal import Decimal
from fractions import Fraction

LONGEST = 40
LARGEST_WHOLE = 12  # digits before the point: well inside 64 bits with four places and minor units

SPACES = str.maketrans(dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " "))
MINUSES = str.maketrans(dict.fromkeys("\u2010\u2011\u2212", "-"))

PLAIN = re.compile(r"([0-9]*)(?:[.,]([0-9]+))?")
COMMA_GROUPS = re.compile(r"([1-9][0-9]{0,2}(?:,[0-9]{3})+)(?:\.([0-9]+))?")
SPACE_GROUPS = re.compile(r"([1-9][0-9]{0,2}(?: [0-9]{3})+)(?:[.,]([0-9]+))?")
ONE_COMMA_GROUP = re.compile(r"([1-9][0-9]{0,2}),([0-9]{3})")
POWER = re.compile(r"-?[0-9.,]+ ?e ?[-+]?[0-9]+", re.IGNORECASE)
NOT_NUMBERS = frozenset({"nan", "snan", "inf", "infinity"})


class NumberError(ValueError):
    """A number that cannot be read with certainty; the text says how to write it."""


def half_up(value: Fraction | Decimal | int) -> int:
    """Return the nearest whole number, a half going away from zero.

    Takes:   an exact number of whatever unit the whole number shall be in.
    Returns: a whole number; half_up(-x) is -half_up(x), so that a correction cancels what it corrects.
    Raises:  ValueError or OverflowError for a Decimal that is not finite.
    Source:  common practice of invoices in the trade; the same as decimal.ROUND_HALF_UP.

    >>> half_up(Decimal("2.675") * 100), half_up(Decimal("12.5")), half_up(Fraction(-1, 2))
    (268, 13, -1)
    """
    over, under = value.as_integer_ratio()
    size = (2 * abs(over) + under) // (2 * under)
    return -size if over < 0 else size


def read_decimal(text: str, places: int = 4, *, negative: bool = False, comma_groups: bool = False) -> Decimal:
    """Return the number that was typed, exact.

    Takes:   what was typed; how many decimal places are allowed; whether it may be under 0; whether one comma with
             three digits after it parts thousands (where there are no decimals it can mean nothing else).
    Returns: a finite Decimal without needless zeros.
    Raises:  NumberError, for 1.234,56, 1e3, NaN, -0, digits of other scripts, 1,234 and what is no number at all.
    Source:  common practice, no source.

    >>> read_decimal("1,25"), read_decimal("1,234.50"), read_decimal(" .5 ")
    (Decimal('1.25'), Decimal('1234.5'), Decimal('0.5'))
    """
    typed = " ".join(text.translate(SPACES).translate(MINUSES).split())
    _refuse_what_is_no_number(typed)
    size, sign = _signed(typed, negative=negative)
    if not comma_groups and (pair := ONE_COMMA_GROUP.fullmatch(size)):
        whole, rest = pair.groups()
        raise NumberError(f"“{typed}” can mean {whole}{rest} or {whole}.{rest}. Write the one you mean.")
    whole, decimals = _parts(size, typed, comma_groups=comma_groups)
    if len(whole) > LARGEST_WHOLE:
        raise NumberError(f"“{_short(typed)}” is too large. Write at most {LARGEST_WHOLE} digits before the point.")
    if len(decimals) > places:
        raise NumberError(_too_fine(typed, places))
    return Decimal(f"{sign}{whole or '0'}.{decimals}" if decimals else f"{sign}{whole or '0'}")


def _refuse_what_is_no_number(typed: str) -> None:
    if not typed:
        raise NumberError("Write a number, such as 1.25.")
    if len(typed) > LONGEST:
        raise NumberError(f"“{_short(typed)}” is too long for a number.")
    if any(sign.isnumeric() and not sign.isascii() for sign in typed):
        raise NumberError("Write the digits as 0 to 9.")
    if typed.lower().lstrip("+-") in NOT_NUMBERS:
        raise NumberError(f"“{typed}” is not a number. Write one such as 1.25.")
    if POWER.fullmatch(typed):
        raise NumberError(f"Write “{typed}” out in full, with digits only.")


def _signed(typed: str, *, negative: bool) -> tuple[str, str]:
    if not typed.startswith("-"):
        return typed, ""
    size = typed[1:].lstrip()
    if not negative or not size.strip("0.,"):
        raise NumberError(f"Write “{typed}” without the minus sign.")
    return size, "-"


def _parts(size: str, typed: str, *, comma_groups: bool) -> tuple[str, str]:
    """The digits before and after the mark, leading and trailing zeros dropped."""
    forms = (COMMA_GROUPS, PLAIN, SPACE_GROUPS) if comma_groups else (PLAIN, COMMA_GROUPS, SPACE_GROUPS)
    found = next((match for form in forms if (match := form.fullmatch(size))), None)
    if found is None or not any(found.groups()):
        raise NumberError(f"“{_short(typed)}” is not a number. Write it like 1.25 or 1234.50.")
    whole = found[1].replace(",", "").replace(" ", "")
    return whole.lstrip("0"), (found[2] or "").rstrip("0")


def _too_fine(typed: str, places: int) -> str:
    if places == 0:
        return f"“{_short(typed)}” has decimals. Write a whole number."
    return f"“{_short(typed)}” is too fine. Write at most {places} digits after the point."


def _short(typed: str) -> str:
    return typed if len(typed) <= LONGEST else typed[: LONGEST - 1] + "…"
