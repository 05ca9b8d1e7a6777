"""Where a screw sits in its slot today, and how long the slot must be.

The part is held fast at one line (the middle of a top, its front edge); a screw further out goes with the wood. The
slot is in what does not move: batten, apron, bracket, or a button's groove.

Not modelled: a batten that moves along its own length, screws that lean, friction.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.numerals import half_up
from webapp.trade.wood.movement import Nanometres, Season, check_sizes, coefficients, share
from webapp.trade.wood.species import Species


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot around a screw, in nanometres.

    From where the screw sits today it must be free to go `inward` (towards the line held fast) and `outward`. The
    middle of the slot lies `off_centre` outward of the screw, inward where under 0. `length` is over all, round ends
    included.
    """

    inward: int
    outward: int
    length: int
    off_centre: int


def slot(
    distance: Nanometres, screw: Nanometres, species: Species | None, cut: str | None, season: Season, spare: int = 0
) -> Slot | None:
    """Return the slot for a screw through a part that moves.

    Takes:   how far the screw is from the line held fast, across the grain, today; the diameter of its shank; species
             and cut, None where unknown; the season; what to leave free beyond need at each end. All in nanometres.
    Returns: a Slot, by the larger figure of a mixed cut; None when species or cut is unknown.
    Raises:  MovementError for a size that is not over 0, or a spare under 0.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5; the slot itself is geometry.

    >>> from webapp.trade.wood.species import find
    >>> slot(457_200_000, 5_000_000, find("white oak"), "flat-sawn", Season(dry=6, today=7, wet=12))
    Slot(inward=1668780, outward=8343900, length=15012680, off_centre=3337560)
    """
    check_sizes(distance, screw, spare + 1)
    found = coefficients(species, cut)
    if found is None:
        return None
    inward = half_up(Fraction(distance) * share(found[1], season.driest, season.today)) + spare
    outward = half_up(Fraction(distance) * share(found[1], season.today, season.wettest)) + spare
    return Slot(inward, outward, inward + half_up(Fraction(screw)) + outward, half_up(Fraction(outward - inward, 2)))
