"""Money as whole minor units (cents, øre, fils), typed and shown, and the three sums that must come out exact.

Rounding is half up, stated once in `numerals.half_up`, and happens once a line: a sum of lines is a sum of whole cents.

Not modelled: exchange between currencies, rounding of cash to coins, what is taxed, interest.
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from webapp.trade.numerals import NumberError, half_up, read_decimal

__all__ = [
    "CURRENCIES",
    "SYMBOLS",
    "MoneyError",
    "NumberError",
    "exponent",
    "half_up",
    "read_decimal",
    "read_money",
    "share_out",
    "show_money",
    "times",
    "times_minor",
]

NO_DECIMALS = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
TWO_DECIMALS = """
AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW CNY COP COU
CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES
KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR
NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP
TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG
"""
THREE_DECIMALS = "BHD IQD JOD KWD LYD OMR TND"
FOUR_DECIMALS = "CLF UYW"

# ISO 4217 list one as published 2026-01-01, read in the data of the iso4217 package 1.16 on PyPI; what has no minor
# unit (gold, test codes) is left out.
CURRENCIES: dict[str, int] = {
    code: places
    for codes, places in ((NO_DECIMALS, 0), (TWO_DECIMALS, 2), (THREE_DECIMALS, 3), (FOUR_DECIMALS, 4))
    for code in codes.split()
}
SYMBOLS = {"USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "EUR": "€", "GBP": "£", "JPY": "¥", "INR": "₹"}


class MoneyError(NumberError):
    """An amount or a currency that cannot be taken; the text says what to write."""


def exponent(currency: str) -> int:
    """Return how many decimals a currency has.

    Takes:   an ISO 4217 code in capitals.
    Returns: 0, 2, 3 or 4.
    Raises:  MoneyError for a code that is not in the list.
    Source:  ISO 4217 list one, published 2026-01-01.

    >>> exponent("USD"), exponent("JPY"), exponent("KWD")
    (2, 0, 3)
    """
    if currency not in CURRENCIES:
        raise MoneyError(f"“{currency}” is not a currency code. Write three capitals such as USD, EUR or NOK.")
    return CURRENCIES[currency]


def read_money(text: str, currency: str, *, negative: bool = False) -> int:
    """Return an amount of money that was typed, in whole minor units.

    Takes:   what was typed, with or without the currency's sign or code; an ISO 4217 code; whether a credit (under 0)
             is allowed.
    Returns: minor units, 1250 for 12.50 in a currency with two decimals.
    Raises:  NumberError (MoneyError is one) for more decimals than the currency has, 1,234 where that could be 1.234,
             and what is no number.
    Source:  exponents ISO 4217; ways of writing common practice, no source.

    >>> read_money("$1,234.50", "USD"), read_money("12,5 EUR", "EUR"), read_money("¥1,234", "JPY")
    (123450, 1250, 1234)
    """
    places = exponent(currency)
    bare, sign = text.strip(), ""
    if bare[:1] in {"-", "\u2212"}:
        bare, sign = bare[1:].strip(), "-"
    typed = sign + _without_currency(bare, currency)
    if typed in {"", "-"}:
        raise MoneyError("Write an amount, such as 12.50." if places else "Write an amount, such as 1250.")
    value = read_decimal(typed, places, negative=negative, comma_groups=places == 0)
    return int(value.scaleb(places))


def show_money(minor: int, currency: str) -> str:
    """Return an amount with its currency, as `read_money` reads it again.

    Takes:   whole minor units, under 0 for a credit; an ISO 4217 code.
    Returns: text with the sign before it ($1,234.50) or the code after it (1,234.50 NOK).
    Raises:  MoneyError for a code that is not in the list.
    Source:  exponents ISO 4217; the look is common practice.

    >>> show_money(123450, "USD"), show_money(-5, "NOK"), show_money(1234, "JPY")
    ('$1,234.50', '-0.05 NOK', '¥1,234')
    """
    places = exponent(currency)
    whole, rest = divmod(abs(minor), 10**places)
    number = f"{whole:,}.{rest:0{places}d}" if places else f"{whole:,}"
    sign = "-" if minor < 0 else ""
    if currency in SYMBOLS:
        return f"{sign}{SYMBOLS[currency]}{number}"
    return f"{sign}{number} {currency}"


def times(quantity: Decimal | Fraction | int, unit_price: Decimal | Fraction | int, currency: str) -> int:
    """Return what a quantity costs at a price for one, rounded half up once.

    Takes:   a quantity; the price of one in major units (dollars); an ISO 4217 code.
    Returns: whole minor units.
    Raises:  MoneyError for a code that is not in the list.
    Source:  plain arithmetic; rounding as `half_up`.

    >>> times(3, Decimal("19.99"), "USD"), times(Decimal("8.3333"), Decimal("7.2505"), "USD")
    (5997, 6042)
    """
    return half_up(Fraction(quantity) * Fraction(unit_price) * 10 ** exponent(currency))


def times_minor(quantity: Decimal | Fraction | int, minor: int) -> int:
    """Return a share or a multiple of an amount in minor units, rounded half up once.

    Takes:   a quantity (hours, a rate of 0.0825 for 8.25 %); whole minor units for one of it.
    Returns: whole minor units.
    Raises:  nothing for finite numbers.
    Source:  plain arithmetic; rounding as `half_up`.

    >>> times_minor(Fraction(50, 60), 5921), times_minor(Decimal("0.0825"), 500_000)
    (4934, 41250)
    """
    return half_up(Fraction(quantity) * minor)


def share_out(total: int, percents: Sequence[Decimal | int]) -> list[int]:
    """Return an amount cut into parts by percentage, which add up to it exactly.

    Takes:   whole minor units; percentages of 0 or more that add up to 100.
    Returns: whole minor units, one a percentage, in that order: each rounded half up, the last taking what is left,
             and none larger than what those before it left over.
    Raises:  MoneyError when the percentages do not add up to 100 or one is under 0.
    Source:  staged payments, common practice; https://www.woodshopnews.com/columns-blogs/staged-payments

    >>> share_out(733333, [10, 40, 25, 25])
    [73333, 293333, 183333, 183334]
    """
    shares = [Fraction(percent) for percent in percents]
    if any(share < 0 for share in shares):
        raise MoneyError("A part cannot be less than 0 %.")
    if sum(shares) != 100:
        raise MoneyError(f"The parts add up to {_percent(sum(shares, Fraction(0)))} %. Make them 100 %.")
    sign, left = (-1 if total < 0 else 1), abs(total)
    parts = []
    for share in shares[:-1]:
        part = min(half_up(abs(total) * share / 100), left)
        parts.append(sign * part)
        left -= part
    return [*parts, sign * left]


def _without_currency(text: str, currency: str) -> str:
    for mark in filter(None, (currency, SYMBOLS.get(currency))):
        if text[: len(mark)].upper() == mark:
            return text[len(mark) :].strip()
        if text[-len(mark) :].upper() == mark:
            return text[: -len(mark)].strip()
    return text


def _percent(share: Fraction) -> str:
    return f"{half_up(share * 100) / 100:.2f}".rstrip("0").rstrip(".")
