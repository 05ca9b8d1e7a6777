"""Who pays for a sheet or board that more than one build uses: two habits, either of which adds up to the price.

What a build was charged never changes when a later one takes an offcut: its cost is closed.

Not modelled: offcuts that lose worth on the shelf.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.boards.lumber import LumberError
from webapp.trade.money import half_up
from webapp.trade.units import Number


@dataclass(frozen=True)
class Charged:
    """Whole minor units: what each build pays, in order of use, and what the rest on the shelf still stands for."""

    builds: tuple[int, ...]
    shelf: int


def first_pays(price: int, builds: int) -> Charged:
    """Return the price charged to the first build; who takes the offcut pays nothing.

    Takes:   whole minor units, 0 or more; how many builds took of it, 0 or more.
    Returns: a Charged that adds up to the price; with no build all is on the shelf.
    Raises:  LumberError for less than 0.
    Source:  common practice, no source.

    >>> first_pays(9600, 2)
    Charged(builds=(9600, 0), shelf=0)
    """
    if price < 0 or builds < 0:
        raise LumberError("A price and a number of builds cannot be less than 0.")
    return Charged((price, *[0] * (builds - 1)), 0) if builds else Charged((), price)


def by_use(price: int, percents: Sequence[Number]) -> Charged:
    """Return the price split by what each build used.

    Takes:   whole minor units, 0 or more; percent of the whole each build took, in order of use, 100 at most together.
    Returns: a Charged that adds up to the price. Each line is the rounded cost of all use so far less what was charged
             before, so a later use never changes an earlier line.
    Raises:  LumberError for less than 0 and for more than 100 % together.
    Source:  common practice, no source; the sum is plain arithmetic.

    >>> by_use(9600, [60]), by_use(9600, [60, 40])
    (Charged(builds=(5760,), shelf=3840), Charged(builds=(5760, 3840), shelf=0))
    """
    if price < 0 or any(percent < 0 for percent in percents):
        raise LumberError("A price and a share cannot be less than 0.")
    charged, used, lines = 0, Fraction(0), []
    for percent in percents:
        used += Fraction(percent)
        lines.append(half_up(price * used / 100) - charged)
        charged += lines[-1]
    if used > 100:
        raise LumberError("More than the whole cannot be used. Make the shares 100 % at most.")
    return Charged(tuple(lines), price - charged)
