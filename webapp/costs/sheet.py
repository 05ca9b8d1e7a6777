"""What a build costs, exact to the smallest coin. Pure; money is whole minor units, rounded half up once, where said.

Labour is rounded for each person and day, materials on the line of the bill, consumables once; everything else is a sum
of what is shown, so that a sheet always adds up.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from webapp.planning.timesheet import Line
from webapp.trade.money import half_up, times_minor

# (from this day on, an hour costs so much), the earliest first
Rates = Sequence[tuple[date, int]]
WHOLE = 100


class PriceError(ValueError):
    """A price that cannot be worked out; the text says why."""


@dataclass(frozen=True)
class Day:
    """The minutes of one person on one day, and what they cost at the rate of that day, if there was one."""

    day: date
    minutes: int
    rate: int | None

    @property
    def minor(self) -> int:
        return 0 if self.rate is None else half_up(Fraction(self.minutes * self.rate, 60))


@dataclass(frozen=True)
class Labour:
    """The hours of one person on the build, day by day."""

    maker: int | None
    days: tuple[Day, ...]

    @property
    def minutes(self) -> int:
        return sum(day.minutes for day in self.days)

    @cached_property
    def minor(self) -> int:
        return sum(day.minor for day in self.days)

    @property
    def unrated(self) -> int:
        return sum(day.minutes for day in self.days if day.rate is None)


@dataclass(frozen=True)
class Sheet:
    """The cost sheet of a build."""

    materials: tuple[tuple[str, int], ...]  # kind, minor units
    labour: tuple[Labour, ...]
    consumables_minor: int = 0
    price_minor: int | None = None
    asked: int = 0  # minutes of clocks nobody has answered for yet; not in the sheet

    @cached_property
    def materials_minor(self) -> int:
        return sum(minor for _, minor in self.materials)

    @cached_property
    def labour_minor(self) -> int:
        return sum(line.minor for line in self.labour)

    @property
    def without_labour_minor(self) -> int:
        return self.materials_minor + self.consumables_minor

    @property
    def total_minor(self) -> int:
        return self.without_labour_minor + self.labour_minor

    @cached_property
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
    sums: dict[int | None, dict[date, int]] = {}
    asked = 0
    for line in lines:
        if line.asked:
            asked += line.minutes
        else:
            days = sums.setdefault(line.maker, {})
            days[line.day] = days.get(line.day, 0) + line.minutes
    found = (Labour(maker, _days(days, rates.get(maker or 0, ()))) for maker, days in sums.items())
    return tuple(found), asked


def _days(days: Mapping[date, int], rates: Rates) -> tuple[Day, ...]:
    return tuple(Day(day, minutes, rate_on(rates, day)) for day, minutes in sorted(days.items()))


def consumables(materials_minor: int, percent: Decimal | None, minor: int | None) -> int:
    """Return what glue, paper and rags count as: a share of the materials, or a sum."""
    if percent is not None:
        return times_minor(Fraction(percent) / 100, materials_minor)
    return minor or 0


def parts(price_minor: int, shares: Sequence[tuple[Decimal, int | None]]) -> list[int]:
    """Return the amounts a price is paid in. `shares` are (percent, what was paid or None while it is open).

    What is paid stays as it is. Each open part is its share of the price, but no more than the parts before it left,
    and the last open one takes the rest: so the sum is the price whatever was rounded or changed. With nothing open the
    amounts stay as paid, and a change of price needs a part of its own.
    """
    left = price_minor - sum(paid for _, paid in shares if paid is not None)
    last = max((number for number, (_, paid) in enumerate(shares) if paid is None), default=-1)
    amounts = []
    for number, (percent, paid) in enumerate(shares):
        if paid is not None:
            amounts.append(paid)
            continue
        share = left if number == last else min(times_minor(Fraction(percent) / 100, price_minor), max(left, 0))
        amounts.append(share)
        left -= share
    return amounts


def price_for_margin(cost_minor: int, percent: Decimal) -> int:
    """Return the price of which so much is left over once the cost is paid: cost 1,000 at 28 % is 1,388.89."""
    if not 0 <= percent < WHOLE:
        raise PriceError("A margin is a share of the price: from 0 to less than 100 %.")
    return half_up(Fraction(cost_minor) / (1 - Fraction(percent) / 100))


def price_for_mark_up(cost_minor: int, percent: Decimal) -> int:
    """Return the cost with so much of itself put on top: cost 1,000 at 28 % is 1,280."""
    return cost_minor + times_minor(Fraction(percent) / 100, cost_minor)
