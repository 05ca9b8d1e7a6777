"""A length taken on the piece against what it should be: how far off it is, whether that is allowed, and how two fit.

A difference is said in the unit of the target: in 64ths of an inch where it is some, else in thousandths; in
hundredths of a millimetre. A tolerance counts either way. A target that is a thickness as bought (8/4) is no size to
hold, so nothing is said of what was measured against it.

Not modelled: tolerances that differ above and below, how well a rule can be read.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.lengths import Length, show, show_decimal
from webapp.trade.rulers import FINEST_RULE
from webapp.trade.sizes.fits import Fit, fits_between
from webapp.trade.units import NANOMETRES

_MARK = NANOMETRES["in"] // FINEST_RULE


@dataclass(frozen=True)
class Judged:
    """How far a size is off in nanometres (under 0: too small), whether it may be (None: nobody says), in words."""

    off: Fraction
    within: bool | None
    says: str


@dataclass(frozen=True)
class Taken:
    """A size as it goes into a fit: nanometres, exact, and how much it may be off either way (0: it was measured)."""

    size: Fraction
    tolerance: Fraction = Fraction(0)


def judge(target: Length, actual: Length, tolerance: Length | None = None) -> Judged:
    """Return how what was measured stands to what it should be.

    Takes:   the target; what was measured, in whatever unit; how far it may be off either way, None where nobody says.
    Returns: a Judged, exact.
    Raises:  nothing.
    Source:  plain arithmetic; 1 in = 25.4 mm, NIST SP 811 App. B.

    >>> from webapp.trade.lengths import read
    >>> judge(read("3/4", "in"), read("49/64", "in"), read("1/32", "in")).says
    'within, 1/64 in over'
    >>> judge(read("19 mm", "in"), read("18.5", "mm"), read("0.2", "mm")).says
    '0.5 mm under, 0.3 mm more than it may be'
    """
    if target.nominal:
        return Judged(Fraction(0), None, "")
    off = actual.exact - target.exact
    within = None if tolerance is None else abs(off) <= tolerance.exact
    if off == 0:
        return Judged(off, within, "on size")
    says = f"{difference(abs(off), target.unit)} {'over' if off > 0 else 'under'}"
    if within:
        return Judged(off, within, f"within, {says}")
    if tolerance is not None:
        says += f", {difference(abs(off) - tolerance.exact, target.unit)} more than it may be"
    return Judged(off, within, says)


def difference(nanometres: int | Fraction, unit: str) -> str:
    """Return a small length as a maker says it.

    Takes:   nanometres, 0 or more; in, ft, mm, cm or m.
    Returns: text with its unit; metric always in millimetres.
    Raises:  LengthError for another unit.
    Source:  as `show`.

    >>> difference(793_750, "in"), difference(127_000, "ft"), difference(500_000, "m")
    ('1/32 in', '0.005 in', '0.5 mm')
    """
    if unit not in ("in", "ft"):
        return show_decimal(nanometres, "mm")
    return show(nanometres, "in") if Fraction(nanometres) % _MARK == 0 else show_decimal(nanometres, "in")


def taken(target: Length, actual: Length | None, tolerance: Length | None = None) -> Taken | None:
    """Return a size as it goes into a fit: as measured, else as it should be with all that it may be off.

    Takes:   the target; what was measured last, None where nothing was; the tolerance, None where there is none.
    Returns: a Taken; None for a thickness as bought that nobody has measured.
    Raises:  nothing.
    Source:  shop rule.

    >>> from webapp.trade.lengths import read
    >>> taken(read("8/4", "in", nominal=True), None) is None
    True
    """
    if actual is not None:
        return Taken(actual.exact)
    if target.nominal:
        return None
    return Taken(target.exact, tolerance.exact if tolerance is not None else Fraction(0))


def fit_of(kind: str, opening: Taken, piece: Taken) -> tuple[Fit, Fit]:
    """Return the tightest and the loosest fit of two sizes; the same twice where nothing may be off.

    Takes:   a key of `fit_classes.KINDS`; the opening and what goes in.
    Returns: two Fits.
    Raises:  FitError as `fits_between`.
    Source:  as `fits_between`.

    >>> fit_says(*fit_of("dowel in hole", Taken(Fraction(7_937_500)), Taken(Fraction(8_000_000))), "mm")
    'tight, about 0.06 mm too big'
    """
    return fits_between(
        kind, opening.size, piece.size, opening_tolerance=opening.tolerance, piece_tolerance=piece.tolerance
    )


def fit_says(tightest: Fit, loosest: Fit, unit: str) -> str:
    """Return a fit in words with its numbers, from the tightest to the loosest where these differ.

    Takes:   two Fits; the unit that decides between thousandths of an inch and hundredths of a millimetre.
    Returns: text.
    Raises:  LengthError for another unit.
    Source:  none needed.

    >>> hole, pin = Taken(Fraction(5_000_000), Fraction(100_000)), Taken(Fraction(4_900_000))
    >>> fit_says(*fit_of("pin in hole", hole, pin), "mm")
    'snug (no play) to easy (0.2 mm of play)'
    """
    if tightest == loosest:
        return tightest.says(unit)
    (name, _, play), (other, _, most) = (one.says(unit).partition(", ") for one in (tightest, loosest))
    return f"{name} ({play} to {most})" if name == other else f"{name} ({play}) to {other} ({most})"
