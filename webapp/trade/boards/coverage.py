"""How much finish coats take, from the coverage a label gives for one coat.

"400 sq ft per gallon" is one coat. What is sprayed past the work is a share of what leaves the gun, so half lost means
twice as much, not half as much again.

Not modelled: what stays in the gun, the brush and the tin; thinning.
"""

from fractions import Fraction

from webapp.trade.units import Number

# Percent of what is used that does not reach the work. Brush: next to nothing; spray: range as read.
LOST_BRUSHING = 0
LOST_SPRAYING = (35, 75)
SOURCE = "https://woodweb.com/knowledge_base/Calculating_finish_coverage.html"


class CoverageError(ValueError):
    """Finish that cannot be reckoned; the text says what to write."""


def needed(area: Number, covers: Number, coats: int, *, lost: Number = 0, first_coat: Number = 1) -> Fraction:
    """Return how much finish all coats take.

    Takes:   the area, over 0; the area one measure (gallon, litre) covers once, over 0, in the same unit; coats, 1 or
             more; percent lost of what is used, from 0 to under 100; how many times the first coat takes what a later
             one does, 1 or more (bare porous wood drinks).
    Returns: measures, exact.
    Raises:  CoverageError when one of these is outside what it takes.
    Source:  SOURCE; the factor of the first coat is the shop's own.

    >>> float(needed(64, 400, 3)), float(needed(64, 400, 3, lost=50))
    (0.48, 0.96)
    """
    if area <= 0 or covers <= 0:
        raise CoverageError("Write the area and what one measure covers, over 0.")
    if coats < 1 or first_coat < 1:
        raise CoverageError("Write one coat or more, and a first coat that takes at least what a later one does.")
    if not 0 <= lost < 100:
        raise CoverageError("What is lost is a share of what is used: write 0 or more, and less than 100 %.")
    times = coats - 1 + Fraction(first_coat)
    return Fraction(area) * times / Fraction(covers) / (1 - Fraction(lost) / 100)
