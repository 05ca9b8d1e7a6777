"""How a fit goes with the moisture of its two parts: today, and at both ends of the year in the house it goes to.

Which way the grain runs follows from the joint. A tenon and its mortise, a panel's edge and its groove lie in the
thickness of their parts, and both move. A dado is as wide along the grain, and an opening between rails as high along
it: they stay, and what goes in moves alone. Pins, cups and dowels are left out: metal stays, and a dowel may lie
anyhow.

Not modelled: glue that holds the two together, and what `movement` leaves out.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from webapp.trade.boards.lumber import Nanometres
from webapp.trade.sizes.fits import Fit, Movement, fit_after
from webapp.trade.units import Number
from webapp.trade.wood.movement import FLAT, MIXED, QUARTER, coefficients
from webapp.trade.wood.species import Species

THICKNESS, WIDTH = "thickness", "width"
_TURNED: Mapping[str, str] = MappingProxyType({FLAT: QUARTER, QUARTER: FLAT, MIXED: MIXED})


@dataclass(frozen=True, slots=True)
class Grain:
    """Across which side of its part a size lies: of what goes in, and of its opening (None: along the grain)."""

    piece: str
    opening: str | None = None


GRAIN: Mapping[str, Grain] = MappingProxyType(
    {
        "tenon in mortise": Grain(THICKNESS, THICKNESS),
        "board in dado": Grain(THICKNESS),
        "panel in groove": Grain(THICKNESS, THICKNESS),
        "drawer in opening": Grain(WIDTH),
        "door in frame": Grain(WIDTH),
    }
)


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two: its size in nanometres at its moisture of today in %, and the least and most it moves per 1 %.

    One that does not move has none.
    """

    size: Nanometres
    today: Number | float | None = None
    least: Decimal = Decimal(0)
    most: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Year:
    """A fit in the dry season and in the damp one."""

    dry: Fit
    damp: Fit


def side(size: Nanometres, today: Number | float, species: Species | None, cut: str | None, across: str) -> Side | None:
    """Return one side of a fit, by its wood.

    Takes:   nanometres; the moisture of today in %; species and cut of the part, None where unknown; whether the size
             lies across the part's thickness or its width.
    Returns: a Side; None when species or cut is unknown. A flat-sawn board is quarter-sawn in its thickness.
    Raises:  nothing.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, Table 13-5.

    >>> from webapp.trade.wood.species import find
    >>> oak = find("white oak")
    >>> [side(20_000_000, 8, oak, FLAT, across).most for across in (WIDTH, THICKNESS)]
    [Decimal('0.00365'), Decimal('0.00180')]
    """
    found = coefficients(species, _TURNED.get(cut or "") if across == THICKNESS else cut)
    return None if found is None else Side(size, today, *found)


def over_the_year(kind: str, opening: Side, piece: Side, dry: Number | float, damp: Number | float) -> Year:
    """Return how two parts fit at both ends of the year.

    Takes:   a key of GRAIN; the opening; what goes in, with its moisture of today; the moisture of the dry season and
             of the damp one in %.
    Returns: a Year, by the larger figure of what goes in and the smaller one of its opening: it swings no further.
    Raises:  FitError as `fit_after`.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2; the classes are common practice, no source.

    >>> drawer = Side(150_000_000, 8, Decimal("0.0025"), Decimal("0.0025"))
    >>> year = over_the_year("drawer in opening", Side(152_000_000), drawer, 6, 14)
    >>> year.dry.says("mm"), year.damp.says("mm")
    ('runs, 2.75 mm of play', 'does not go in, 0.25 mm too big')
    """
    assert piece.today is not None
    before, shares = piece.today, (opening.least, piece.most)
    ends = (Movement(before, end, *shares, opening_before=opening.today) for end in (dry, damp))
    return Year(*(fit_after(kind, opening.size, piece.size, end) for end in ends))
