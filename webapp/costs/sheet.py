"""What a build costs, exact to the smallest coin. Pure; money is whole minor units, rounded half up once, where said.

Labour is rounded for each person and day, materials on the line of the bill, consumables once; everything else is a sum
of what is shown, so that a sheet always adds up.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from webapp.planning.timesheet import Line
from webapp.trade.money import half_up, times_minor

# (from this day on, an hour costs so much), the earliest first
Rates = Sequence[tuple[date, int]]


@dataclass(frozen=True)
class Labour:
    """The hours of one person on the build, and what they cost by the rates of their days."""

    maker: int | None
    minutes: int
    minor: int
    unrated: int


@dataclass(frozen=True)
class Sheet:
    """The cost sheet of a build."""

    materials: tuple[tuple[str, int], ...]  # kind, minor units
    labour: tuple[Labour, ...]
    consumables_minor: int = 0
    price_minor: int | None = None
    asked: int = 0  # minutes of clocks nobody has answered for yet; not in the sheet

    @property
    def materials_minor(self) -> int:
        return sum(minor for _, minor in self.materials)

    @property
    def labour_minor(self) -> int:
        return sum(line.minor for line in self.labour)

    @property
    def without_labour_minor(self) -> int:
        return self.materials_minor + self.consumables_minor

    @property
    def total_minor(self) -> int:
        return self.without_labour_minor + self.labour_minor

    @property
    def minutes(self) -> int:
        return sum(line.minutes for line in self.labour)

    @property
    def unrated(self) -> int:
        """Minutes of people who have no rate on that day: they are in the hours, not in the cost."""
        return sum(line.unrated for line in self.labour)

    @property
    def left_minor(self) -> int | None:
        """The price less all costs; under 0 it is a loss."""
        return None if self.price_minor is None else self.price_minor - self.total_minor

    @property
    def earned_an_hour(self) -> int | None:
        """What the hours really earned: the price less everything but labour, by the hour."""
        if self.price_minor is None or not self.minutes:
            return None
        return half_up(Fraction((self.price_minor - self.without_labour_minor) * 60, self.minutes))

    @property
    def margin(self) -> Decimal | None:
        """What is left as a share of the price, in percent to one place; not the mark-up, which is a share of cost."""
        left = self.left_minor
        return _percent(left, self.price_minor) if left is not None and self.price_minor else None

    @property
    def mark_up(self) -> Decimal | None:
        """What is left as a share of the cost, in percent to one place; not the margin, which is a share of price."""
        left = self.left_minor
        return _percent(left, self.total_minor) if left is not None and self.total_minor else None


def _percent(part: int, whole: int) -> Decimal:
    return Decimal(half_up(Fraction(part * 1000, whole))) / 10


def rate_on(rates: Rates, day: date) -> int | None:
    """Return what an hour cost on a day: the newest rate not after it."""
    return next((minor for first, minor in reversed(rates) if first <= day), None)


def labour(lines: Iterable[Line], rates: Mapping[int, Rates]) -> tuple[tuple[Labour, ...], int]:
    """Return what each person's hours cost, and the minutes that are still asked about and left out."""
    days: dict[tuple[int | None, date], int] = {}
    asked = 0
    for line in lines:
        if line.asked:
            asked += line.minutes
        else:
            days[line.maker, line.day] = days.get((line.maker, line.day), 0) + line.minutes
    found: dict[int | None, Labour] = {}
    for (maker, day), minutes in days.items():
        rate = rate_on(rates.get(maker, ()), day) if maker is not None else None
        before = found.get(maker, Labour(maker, 0, 0, 0))
        found[maker] = Labour(
            maker,
            before.minutes + minutes,
            before.minor + (0 if rate is None else times_minor(Fraction(minutes, 60), rate)),
            before.unrated + (minutes if rate is None else 0),
        )
    return tuple(found.values()), asked


def consumables(materials_minor: int, percent: Decimal | None, minor: int | None) -> int:
    """Return what glue, paper and rags count as: a share of the materials, or a sum."""
    if percent is not None:
        return times_minor(Fraction(percent) / 100, materials_minor)
    return minor or 0


def parts(price_minor: int, shares: Sequence[tuple[Decimal, int | None]]) -> list[int]:
    """Return the amounts a price is paid in. `shares` are (percent, what was paid or None while it is open).

    What is paid stays as it is; each open part is its share of the price, and the last open one takes the rest, so
    that the sum is the price whatever was rounded or changed.
    """
    amounts = [paid if paid is not None else times_minor(Fraction(share) / 100, price_minor) for share, paid in shares]
    open_parts = [number for number, (_, paid) in enumerate(shares) if paid is None]
    if open_parts:
        last = open_parts[-1]
        amounts[last] = price_minor - sum(amount for number, amount in enumerate(amounts) if number != last)
    return amounts
