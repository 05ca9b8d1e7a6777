"""How much a part grows and shrinks across the grain as its moisture changes. Along the grain it does not, to speak of.

The handbook's rule is a straight line: width now, times the coefficient, times the points of moisture. It holds from 6
to 14 %; outside nothing is said. All widths of a part are reckoned from its width today, so there and back is nothing.

Real boards are rarely quite flat-sawn or quarter-sawn, so the figure is rather too large for a width and too small for
a thickness (the handbook says so). A mixed cut lies between two figures; whoever leaves room takes the larger.

Not modelled: moisture that differs between skin and core, finish that slows the change, wood that is held and crushed,
wet wood above 14 %.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from webapp.trade.numerals import half_up
from webapp.trade.wood.species import Species

LOWEST, HIGHEST = 6.0, 14.0  # % moisture, between which the coefficients hold
FLAT, QUARTER, MIXED = "flat-sawn", "quarter-sawn", "mixed"
CUTS = (FLAT, QUARTER, MIXED)

Nanometres = int | Fraction


class MovementError(ValueError):
    """A movement that cannot be told; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class Change:
    """What a width changes by, in nanometres, under 0 where it shrinks; two figures apart only for a mixed cut."""

    before: float
    after: float
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Season:
    """Moisture in %: at the dry and the wet end of the year where the piece goes, and of the wood today.

    Raises MovementError for a figure outside 6 to 14 %, or ends the wrong way round.
    """

    dry: float
    today: float
    wet: float

    def __post_init__(self) -> None:
        _check_moisture(self.dry, self.today, self.wet)
        if self.dry > self.wet:
            raise MovementError(
                f"The dry end ({self.dry:g} %) is above the wet end ({self.wet:g} %). Change them round."
            )

    @property
    def driest(self) -> float:
        """The least the wood will have, today or in the year."""
        return min(self.dry, self.today)

    @property
    def wettest(self) -> float:
        """The most the wood will have, today or in the year."""
        return max(self.wet, self.today)


@dataclass(frozen=True, slots=True)
class Seasonal:
    """A width over the year, in nanometres, by the larger figure: none is under 0.

    `swing` is from the dry to the wet end; `shrinks` and `grows` are reckoned from today.
    """

    swing: int
    shrinks: int
    grows: int
    narrowest: int
    widest: int


def change(width: Nanometres, species: Species | None, cut: str | None, before: float, after: float) -> Change | None:
    """Return how much a width changes between two moistures.

    Takes:   the width across the grain at the first moisture, in nanometres, over 0; the species and the cut (one of
             CUTS), None where unknown; both moistures in %, from 6 to 14.
    Returns: a Change, rounded half up; None when species or cut is unknown, for then nothing is known.
    Raises:  MovementError outside 6 to 14 %, or for a width that is not over 0.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5; range read in the table's heading.

    >>> from webapp.trade.wood.species import find
    >>> change(914_400_000, find("white oak"), FLAT, 6, 12)
    Change(before=6, after=12, least=20025360, most=20025360)
    >>> change(914_400_000, None, FLAT, 6, 12) is None
    True
    """
    check_sizes(width)
    _check_moisture(before, after)
    found = coefficients(species, cut)
    if found is None:
        return None
    least, most = (half_up(Fraction(width) * share(one, before, after)) for one in found)
    return Change(before, after, least, most)


def seasonal(width: Nanometres, species: Species | None, cut: str | None, season: Season) -> Seasonal | None:
    """Return what a width does over the year, seen from today.

    Takes:   the width across the grain today, in nanometres, over 0; species and cut, None where unknown; the season.
    Returns: a Seasonal; None when species or cut is unknown.
    Raises:  MovementError for a width that is not over 0.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5.

    >>> from webapp.trade.wood.species import find
    >>> year = seasonal(500_000_000, find("sugar maple"), FLAT, Season(dry=6, today=8, wet=10))
    >>> year.shrinks, year.grows, year.swing
    (3530000, 3530000, 7060000)
    """
    check_sizes(width)
    found = coefficients(species, cut)
    if found is None:
        return None
    exact = Fraction(width)
    shrinks = half_up(exact * share(found[1], season.driest, season.today))
    grows = half_up(exact * share(found[1], season.today, season.wettest))
    swing = half_up(exact * share(found[1], season.dry, season.wet))
    return Seasonal(swing, shrinks, grows, half_up(exact) - shrinks, half_up(exact) + grows)


def coefficients(species: Species | None, cut: str | None) -> tuple[Decimal, Decimal] | None:
    """Return the least and the most a wood of that cut changes per 1 % moisture.

    Takes:   the species and the cut, None where unknown.
    Returns: two shares of the width, the same but for a mixed cut; None when species or cut is unknown.
    Raises:  nothing.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, Table 13-5; a mixed cut lies between, common practice.

    >>> from webapp.trade.wood.species import find
    >>> coefficients(find("black walnut"), MIXED), coefficients(find("black walnut"), "unknown")
    ((Decimal('0.00190'), Decimal('0.00274')), None)
    """
    if species is None or cut not in CUTS:
        return None
    both = sorted((species.radial, species.tangential))
    if cut == MIXED:
        return both[0], both[1]
    one = species.tangential if cut == FLAT else species.radial
    return one, one


def share(coefficient: Decimal, before: float, after: float) -> Fraction:
    """Return what share of its width a part gains between two moistures.

    Takes:   the coefficient per 1 %; both moistures in %, finite.
    Returns: an exact share for the figures as they are written, under 0 when the wood dries.
    Raises:  nothing.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2.

    >>> share(Decimal("0.00365"), 6, 12)
    Fraction(219, 10000)
    """
    return Fraction(coefficient) * (Fraction(str(after)) - Fraction(str(before)))


def check_sizes(*sizes: Nanometres) -> None:
    """Raise MovementError unless each size is over 0.

    Takes:   nanometres.
    Returns: nothing.
    Raises:  MovementError.
    Source:  plain arithmetic.

    >>> check_sizes(1)
    """
    if any(size <= 0 for size in sizes):
        raise MovementError("Write each size of the part, over 0.")


def _check_moisture(*moistures: float) -> None:
    for moisture in moistures:
        if not LOWEST <= moisture <= HIGHEST:
            raise MovementError(
                f"The figures for movement hold from {LOWEST:g} to {HIGHEST:g} % moisture; {moisture:g} % is outside, "
                "so no movement is given."
            )
