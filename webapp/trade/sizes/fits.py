"""What goes into what: clearance, exact in nanometres, what shop practice calls it, and what moisture does to it.

Clearance is the opening less what goes in, both sides together, so a metric cutter and an inch pin are compared as they
are: a 5/16 in bit under an 8 mm dowel is 0.0625 mm short.

Across the grain wood grows with its moisture, along it hardly. Mortise and tenon both move and stay about as they are;
a drawer in an opening along the grain does not.

Not modelled: how far wood gives way, roughness, glue that swells a joint for an hour, holes that become oval, movement
of a panel in its width (see `movement`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite

from webapp.trade.boards.lumber import Nanometres
from webapp.trade.lengths import show_decimal
from webapp.trade.sizes.fit_classes import FitClass, FitError, classes
from webapp.trade.units import Number

__all__ = ["DRIEST", "WETTEST", "Fit", "FitClass", "FitError", "Movement", "fit", "fit_after", "fits_between", "moved"]

DRIEST, WETTEST = 6, 14  # percent of moisture; the coefficients hold between them
MOST_PER_POINT = Fraction(1, 100)  # more than twice what any wood of the table moves


@dataclass(frozen=True)
class Fit:
    """A clearance in nanometres (under 0: too big) and the class it falls into."""

    clearance: Fraction
    found: FitClass

    @property
    def each_side(self) -> Fraction:
        return self.clearance / 2

    def says(self, unit: str) -> str:
        """Return the fit in words, in thousandths of an inch (in, ft) or in hundredths of a millimetre."""
        shown = show_decimal(abs(self.clearance), "in" if unit in ("in", "ft") else "mm")
        if shown.removeprefix("about ").startswith("0 "):
            return f"{self.found.name}, no play"
        return f"{self.found.name}, {shown} {'of play' if self.clearance > 0 else 'too big'}"


@dataclass(frozen=True)
class Movement:
    """Moisture in percent then and now, and how each side moves across the grain: share per 1 %, 0 along it.

    `opening_before` where the opening had another moisture than what goes in.
    """

    before: Number | float
    after: Number | float
    opening: Number | float = 0
    piece: Number | float = 0
    opening_before: Number | float | None = None


def fit(kind: str, opening: Nanometres, piece: Nanometres, limits: Sequence[int] | None = None) -> Fit:
    """Return how a piece goes into its opening.

    Takes:   a key of `fit_classes.KINDS`; the opening (a hole is as large as its cutter) and what goes in, nanometres
             over 0; the shop's own limits of the classes in nanometres, or none.
    Returns: a Fit, its clearance exact.
    Raises:  FitError for a size of 0 or less, another kind, or limits out of order.
    Source:  plain arithmetic; the classes are common practice, no source.

    >>> fit("dowel in hole", 7_937_500, 8_000_000).says("mm"), fit("board in dado", 19_050_000, 18_000_000).says("in")
    ('tight, about 0.06 mm too big', 'loose, about 0.041 in of play')
    """
    if opening <= 0 or piece <= 0:
        raise FitError("Write the size of the opening and of what goes in, over 0.")
    return _judged(kind, Fraction(opening) - piece, limits)


def fits_between(
    kind: str,
    opening: Nanometres,
    piece: Nanometres,
    *,
    opening_tolerance: Nanometres = 0,
    piece_tolerance: Nanometres = 0,
    limits: Sequence[int] | None = None,
) -> tuple[Fit, Fit]:
    """Return the tightest and the loosest fit that two tolerances allow.

    Takes:   as `fit`; the tolerances in nanometres, either way, 0 or more.
    Returns: the Fit of the smallest opening with the largest piece, and the other way round.
    Raises:  FitError as `fit`, and for a tolerance under 0.
    Source:  plain arithmetic (worst case); the classes are common practice, no source.

    >>> [one.found.name for one in fits_between("pin in hole", 5_000_000, 4_900_000, opening_tolerance=100_000)]
    ['snug', 'easy']
    """
    if opening_tolerance < 0 or piece_tolerance < 0:
        raise FitError("A tolerance cannot be less than 0.")
    middle = fit(kind, opening, piece, limits).clearance
    spread = Fraction(opening_tolerance) + piece_tolerance
    return _judged(kind, middle - spread, limits), _judged(kind, middle + spread, limits)


def moved(size: Nanometres, per_point: Number | float, before: Number | float, after: Number | float) -> Fraction:
    """Return a size across the grain after its moisture has changed.

    Takes:   nanometres; the share it moves per 1 % of moisture (0.00365 for flat-sawn commercial white oak, 0 along the
             grain); the moisture it was measured at and the one it comes to, percent.
    Returns: nanometres, exact: size (1 + per_point (after - before)).
    Raises:  FitError for a moisture outside 6 to 14 % and a share that no wood moves by.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2, which holds between 6 and 14 %.

    >>> float(moved(150_000_000, 0.0025, 6, 12))
    152250000.0
    """
    share, points = _exact(per_point), _moisture(after) - _moisture(before)
    if not 0 <= share <= MOST_PER_POINT:
        raise FitError("Movement is a share per 1 % of moisture, such as 0.0035. No wood moves as much as that.")
    return Fraction(size) * (1 + share * points)


def fit_after(
    kind: str, opening: Nanometres, piece: Nanometres, movement: Movement, limits: Sequence[int] | None = None
) -> Fit:
    """Return how a piece goes into its opening once both have another moisture.

    Takes:   as `fit`, sizes as they are before; a Movement.
    Returns: the Fit at the moisture after.
    Raises:  FitError as `fit` and `moved`.
    Source:  as `moved`; the classes are common practice, no source.

    >>> winter, summer = Movement(6, 6), Movement(6, 12, piece=0.0025)
    >>> [fit_after("drawer in opening", 152_000_000, 150_000_000, when).says("mm") for when in (winter, summer)]
    ['runs, 2 mm of play', 'does not go in, 0.25 mm too big']
    """
    fit(kind, opening, piece, limits)
    before = movement.before if movement.opening_before is None else movement.opening_before
    gap = moved(opening, movement.opening, before, movement.after)
    return _judged(kind, gap - moved(piece, movement.piece, movement.before, movement.after), limits)


def _judged(kind: str, clearance: Fraction, limits: Sequence[int] | None) -> Fit:
    *limited, last = classes(kind, limits)
    return Fit(clearance, next((one for one in limited if one.under is not None and clearance < one.under), last))


def _moisture(percent: Number | float) -> Fraction:
    exact = _exact(percent)
    if not DRIEST <= exact <= WETTEST:
        raise FitError(f"How wood moves is known from {DRIEST} to {WETTEST} % moisture. Look at the reading again.")
    return exact


def _exact(number: Number | float) -> Fraction:
    """0.00365 as it is written, not as a float keeps it."""
    if not isfinite(number):
        raise FitError("Write a number, such as 8.5.")
    return Fraction(str(number))
