"""Nominal sizes of lumber and what they measure: rough, surfaced on one side (S1S), on two (S2S), dressed.

A nominal size is a name, not a measurement: a 2 x 4 is 1 1/2 by 3 1/2 in. The figures are what the trade's rules ask
for; a yard's own boards are measured, and kiln-dried 5/4 may be 1/16 in under its name.

Not modelled: green softwood, hardwood widths, mouldings, metric sections, what a mill surfaces on request.
"""

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from webapp.trade.boards.lumber import INCH, LumberError, Nanometres

READ = "read"
MEMORY = "memory"  # recalled, not seen: measure the board

HARDWOOD_SOURCE = (
    "hardwood trade rule, adopted in Wood Handbook ch. 6; "
    "https://www.engineeringtoolbox.com/hardwood-lumber-dimensions-chart-d_1462.html"
)
SOFTWOOD_SOURCE = (
    "American Softwood Lumber Standard PS 20, least dressed size, dry; "
    "https://nist.gov/news-events/news/2017/03/making-sure-lumber-measures"
)


@dataclass(frozen=True)
class Hardwood:
    """Thicknesses in nanometres by the trade's rule; s1s is None where no figure is known."""

    rough: int
    s1s: int | None
    s2s: int
    how_known: str


@dataclass(frozen=True)
class Softwood:
    """A dressed size in nanometres, dry."""

    dressed: int
    how_known: str


def _nm(inches: str) -> int:
    return int(sum(Fraction(part) for part in inches.split()) * INCH)


# By quarters of an inch. 10/4 was recalled, the others were read.
HARDWOOD = MappingProxyType(
    {
        quarters: Hardwood(quarters * INCH // 4, _nm(s1s) if s1s else None, _nm(s2s), how_known)
        for quarters, s1s, s2s, how_known in (
            (3, "5/8", "9/16", READ),
            (4, "7/8", "13/16", READ),
            (5, "1 1/8", "1 1/16", READ),
            (6, "1 3/8", "1 5/16", READ),
            (8, "1 13/16", "1 3/4", READ),
            (10, "", "2 1/4", MEMORY),
            (12, "2 13/16", "2 3/4", READ),
            (16, "3 13/16", "3 3/4", READ),
        )
    }
)
SOFTWOOD_THICKNESS = MappingProxyType(
    {
        _nm(nominal): Softwood(_nm(dressed), how_known)
        for nominal, dressed, how_known in (
            ("1", "3/4", READ),
            ("1 1/4", "1", MEMORY),
            ("1 1/2", "1 1/4", MEMORY),
            ("2", "1 1/2", READ),
            ("2 1/2", "2", MEMORY),
            ("3", "2 1/2", MEMORY),
            ("4", "3 1/2", READ),
        )
    }
)
SOFTWOOD_WIDTH = MappingProxyType(
    {
        _nm(nominal): Softwood(_nm(dressed), how_known)
        for nominal, dressed, how_known in (
            ("2", "1 1/2", MEMORY),
            ("3", "2 1/2", READ),
            ("4", "3 1/2", READ),
            ("5", "4 1/2", MEMORY),
            ("6", "5 1/2", READ),
            ("8", "7 1/4", MEMORY),
            ("10", "9 1/4", MEMORY),
            ("12", "11 1/4", MEMORY),
        )
    }
)


def hardwood(nominal: Nanometres) -> Hardwood:
    """Return what hardwood of a nominal thickness measures rough and surfaced.

    Takes:   nanometres of the nominal thickness: 8/4 is 50,800,000.
    Returns: a Hardwood in nanometres, with how its figures are known.
    Raises:  LumberError for a thickness no figure is known for.
    Source:  HARDWOOD_SOURCE; 10/4 from memory.

    >>> hardwood(2 * INCH).s2s == INCH + 3 * INCH // 4
    True
    """
    for quarters, sizes in HARDWOOD.items():
        if Fraction(nominal) == Fraction(quarters, 4) * INCH:
            return sizes
    known = ", ".join(f"{quarters}/4" for quarters in HARDWOOD)
    raise LumberError(f"No surfaced thickness is known for that. Known are {known}. Measure the board.")


def softwood_thickness(nominal: Nanometres) -> Softwood:
    """Return what dressed dry softwood of a nominal thickness measures.

    Takes:   nanometres of the nominal thickness: the 2 of a 2 x 4 is 50,800,000.
    Returns: a Softwood in nanometres, with how its figure is known.
    Raises:  LumberError for a thickness no figure is known for.
    Source:  SOFTWOOD_SOURCE; some from memory, as each says.

    >>> softwood_thickness(2 * INCH).dressed == INCH + INCH // 2
    True
    """
    return _softwood(SOFTWOOD_THICKNESS, nominal, "thickness")


def softwood_width(nominal: Nanometres) -> Softwood:
    """Return what dressed dry softwood of a nominal width measures.

    Takes:   nanometres of the nominal width: the 4 of a 2 x 4 is 101,600,000.
    Returns: a Softwood in nanometres, with how its figure is known.
    Raises:  LumberError for a width no figure is known for.
    Source:  SOFTWOOD_SOURCE; some from memory, as each says.

    >>> softwood_width(4 * INCH).dressed == 3 * INCH + INCH // 2
    True
    """
    return _softwood(SOFTWOOD_WIDTH, nominal, "width")


def hardwood_for(thickness: Nanometres) -> int:
    """Return the thinnest hardwood to buy that is thick enough after both faces are surfaced.

    Takes:   nanometres, over 0: the thickness the part shall have.
    Returns: quarters of an inch, 4 for 4/4.
    Raises:  LumberError for 0 or less, and for more than the thickest leaves: then it is laminated.
    Source:  HARDWOOD_SOURCE; 10/4 from memory.

    >>> hardwood_for(13 * INCH // 16), hardwood_for(INCH)
    (4, 5)
    """
    if thickness <= 0:
        raise LumberError("Write the thickness of the part, over 0.")
    for quarters, sizes in HARDWOOD.items():
        if sizes.s2s >= thickness:
            return quarters
    raise LumberError("No board is that thick once it is surfaced. Laminate it from layers.")


def _softwood(sizes: MappingProxyType[int, Softwood], nominal: Nanometres, of: str) -> Softwood:
    found = next((size for name, size in sizes.items() if name == nominal), None)
    if found is None:
        raise LumberError(f"No dressed {of} is known for that nominal size. Measure the lumber.")
    return found
