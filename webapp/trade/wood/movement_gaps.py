"""How wide to cut a panel or a drawer front today, so that it neither binds when wet nor falls out or gapes when dry.

The opening is taken not to move: stiles and case sides stand with their grain along it. What moves is the part in it.
A panel is never glued in, and is coated before the frame goes round it: `shows` says how much bare wood would come out.

Not modelled: rails and stiles that shrink across their own width, panels of several species, rattling.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from webapp.trade.numerals import half_up
from webapp.trade.wood.movement import MovementError, Nanometres, Season, check_sizes, coefficients, share
from webapp.trade.wood.species import Species


@dataclass(frozen=True, slots=True)
class PanelFit:
    """A panel in the grooves of a frame, in nanometres as it measures today.

    Cut between `narrowest` and `widest` it stays in when dry and does not push the frame apart when wet; `width` is
    halfway, with `gap` to the bottom of each groove. Where the groove is too shallow for both, `fits` is False, there
    is no `width` or `gap`, and narrowest is over widest. `groove_needed` is the shallowest groove that does. `shows` is
    how much of the panel comes out of a groove by the dry end.
    """

    fits: bool
    narrowest: int
    widest: int
    width: int | None
    gap: int | None
    least_gap: int
    most_gap: int
    groove_needed: int
    shows: int


@dataclass(frozen=True, slots=True)
class InsetFit:
    """A drawer front, side or slab door in an opening: its size today, and all of the gap (both sides together), in
    nanometres. `wet` is under 0 where it binds.
    """

    size: int
    today: int
    dry: int
    wet: int
    binds: bool


def panel(
    opening: Nanometres,
    groove: Nanometres,
    species: Species | None,
    cut: str | None,
    season: Season,
    *,
    hold: Nanometres,
    spare: Nanometres = 0,
    pinned: bool = True,
) -> PanelFit | None:
    """Return how wide a panel may be cut today, and the gap that leaves in its grooves.

    Takes:   the opening between the inner edges of the frame, across the panel's grain; the depth of each groove;
             species and cut, None where unknown; the season; how much of the panel must stay in each groove when dry;
             what stays free at the bottom of each groove when wet; whether it is pinned (or sprung) in the middle, or
             may slide to one side. All in nanometres.
    Returns: a PanelFit, by the larger figure of a mixed cut; None when species or cut is unknown.
    Raises:  MovementError for an opening, groove or hold that is not over 0, a spare under 0, or hold and spare
             together deeper than the groove.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5; the rest is geometry.

    >>> from webapp.trade.wood.species import find
    >>> season = Season(dry=6, today=8, wet=10)
    >>> fit = panel(400_000_000, 10_000_000, find("black cherry"), "flat-sawn", season, hold=5_000_000, spare=1_000_000)
    >>> fit.narrowest, fit.widest, fit.gap
    (412043737, 415936952, 3004828)
    """
    check_sizes(opening, groove, hold, spare + 1)
    if hold + spare > groove:
        raise MovementError("The groove is not as deep as what the panel must hold and leave free. Make it deeper.")
    found = coefficients(species, cut)
    if found is None:
        return None
    dries = 1 - share(found[1], season.driest, season.today)
    wets = 1 + share(found[1], season.today, season.wettest)
    held = Fraction(opening) + (2 * hold if pinned else groove + hold)
    narrowest, widest = ceil(held / dries), floor((Fraction(opening) + 2 * (groove - spare)) / wets)
    fits = narrowest <= widest
    width = (narrowest + widest) // 2 if fits else None
    out = (width or widest) * (1 - dries) / (2 if pinned else 1)
    return PanelFit(
        fits,
        narrowest,
        widest,
        width,
        None if width is None else _gap(width, opening, groove),
        _gap(widest, opening, groove),
        _gap(narrowest, opening, groove),
        _groove_needed(Fraction(opening), hold, spare, wets / dries, pinned=pinned),
        half_up(out),
    )


def inset(
    opening: Nanometres, species: Species | None, cut: str | None, season: Season, *, clear: Nanometres
) -> InsetFit | None:
    """Return how large a drawer or slab door may be cut today to run free at the wet end.

    Takes:   the opening across the part's grain; species and cut, None where unknown; the season; all of the gap that
             must be left when wet, both sides together. Nanometres.
    Returns: an InsetFit of the largest such size, by the larger figure of a mixed cut; None when species or cut is
             unknown.
    Raises:  MovementError for an opening that is not over 0, a clear gap under 0 or as large as the opening.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5; the rest is geometry.

    >>> from webapp.trade.wood.species import find
    >>> fit = inset(200_000_000, find("hard maple"), "flat-sawn", Season(dry=6, today=8, wet=11), clear=1_000_000)
    >>> fit.size, fit.today, fit.dry, fit.wet, fit.binds
    (196914673, 3085327, 4475545, 1000001, False)
    """
    check_sizes(opening, clear + 1)
    if clear >= opening:
        raise MovementError("The gap is as large as the opening. Leave less free.")
    found = coefficients(species, cut)
    if found is None:
        return None
    wets = 1 + share(found[1], season.today, season.wettest)
    return inset_gaps(opening, floor((Fraction(opening) - clear) / wets), species, cut, season)


def inset_gaps(
    opening: Nanometres, size: Nanometres, species: Species | None, cut: str | None, season: Season
) -> InsetFit | None:
    """Return the gaps around a drawer or slab door that is cut already.

    Takes:   the opening and the part across its grain, measured today, in nanometres; species and cut, None where
             unknown; the season.
    Returns: an InsetFit, by the larger figure of a mixed cut; None when species or cut is unknown.
    Raises:  MovementError for sizes that are not over 0.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, eq. 13-2 and Table 13-5; the rest is geometry.

    >>> from webapp.trade.wood.species import find
    >>> inset_gaps(200_000_000, 199_000_000, find("hard maple"), "flat-sawn", Season(dry=6, today=8, wet=11)).binds
    True
    """
    check_sizes(opening, size)
    found = coefficients(species, cut)
    if found is None:
        return None
    free, exact = Fraction(opening) - size, Fraction(size)
    dry = free + exact * share(found[1], season.driest, season.today)
    wet = free - exact * share(found[1], season.today, season.wettest)
    return InsetFit(half_up(exact), half_up(free), half_up(dry), half_up(wet), wet < 0)


def _gap(width: int, opening: Nanometres, groove: Nanometres) -> int:
    return half_up(Fraction(groove) - (width - Fraction(opening)) / 2)


def _groove_needed(opening: Fraction, hold: Nanometres, spare: Nanometres, swell: Fraction, *, pinned: bool) -> int:
    """The depth at which the narrowest panel is the widest too; `swell` is wet width over dry width."""
    if pinned:
        return ceil(((opening + 2 * hold) * swell - opening) / 2 + spare)
    return ceil(((opening + hold) * swell - opening + 2 * spare) / (2 - swell))
