"""Waste, always as the share *of what is bought*, and how much to buy so that enough is left.

30 % waste means that 30 of 100 board feet bought end as dust and firewood: 100 net need 142.86. Who adds 30 % to the
net buys 130, of which 23 % are waste, and comes up short. Both ways of saying it are here, each under its own name.

Not modelled: what of the waste is kept as offcuts (see `offcuts`).
"""

from fractions import Fraction

from webapp.trade.boards.lumber import LumberError
from webapp.trade.units import Number

MEANING = "waste as a share of what is bought"
# In percent of what is bought. Range in use; a shop's own record is better than either.
USUAL = (20, 40)
USUAL_ROUGH = (30, 40)
SOURCES = (
    "https://www.woodweb.com/knowledge_base/Calculating_Waste_from_Rough_Lumber.html",
    "https://www.woodweb.com/knowledge_base/Accounting_for_Wood_Waste.html",
)


def gross(needed: Number, waste: Number) -> Fraction:
    """Return how much to buy so that enough is left.

    Takes:   what is needed in the parts, 0 or more, in any unit; the waste in percent of what is bought, from 0 to
             under 100.
    Returns: the same unit, exact: net / (1 - waste).
    Raises:  LumberError for less than 0 and for a waste of 100 % or more.
    Source:  SOURCES.

    >>> round(float(gross(100, 30)), 2)
    142.86
    """
    return _amount(needed) / (1 - _share(waste))


def net(bought: Number, waste: Number) -> Fraction:
    """Return what is left of what is bought.

    Takes:   what is bought, 0 or more, in any unit; the waste in percent of that, from 0 to under 100.
    Returns: the same unit, exact.
    Raises:  LumberError for less than 0 and for a waste of 100 % or more.
    Source:  SOURCES.

    >>> net(130, 30)
    Fraction(91, 1)
    """
    return _amount(bought) * (1 - _share(waste))


def wasted(bought: Number, used: Number) -> Fraction:
    """Return the waste a build had, to be kept for the next.

    Takes:   what was bought and what is in the parts, in one unit, the second not above the first.
    Returns: percent of what was bought, exact.
    Raises:  LumberError when nothing was bought or more was used than that.
    Source:  SOURCES.

    >>> round(float(wasted(130, 100)), 1)
    23.1
    """
    if _amount(bought) == 0 or _amount(used) > _amount(bought):
        raise LumberError("More cannot be in the parts than was bought. Look at both amounts again.")
    return 100 * (1 - _amount(used) / _amount(bought))


def from_added(added: Number) -> Fraction:
    """Return the waste that somebody means who adds a percentage to the net.

    Takes:   the percentage added to what is needed, 0 or more.
    Returns: percent of what is bought, exact; always less than what was added.
    Raises:  LumberError for less than 0.
    Source:  plain arithmetic.

    >>> round(float(from_added(30)), 1)
    23.1
    """
    share = _amount(added) / 100
    return 100 * share / (1 + share)


def as_added(waste: Number) -> Fraction:
    """Return what has to be added to the net for a waste.

    Takes:   the waste in percent of what is bought, from 0 to under 100.
    Returns: percent of the net, exact.
    Raises:  LumberError for less than 0 and for 100 % or more.
    Source:  plain arithmetic.

    >>> round(float(as_added(30)), 2)
    42.86
    """
    return 100 * (1 / (1 - _share(waste)) - 1)


def _amount(amount: Number) -> Fraction:
    exact = Fraction(amount)
    if exact < 0:
        raise LumberError("An amount of wood cannot be less than 0.")
    return exact


def _share(waste: Number) -> Fraction:
    share = Fraction(waste) / 100
    if not 0 <= share < 1:
        raise LumberError("Waste is a share of what is bought: write 0 or more, and less than 100 %.")
    return share
