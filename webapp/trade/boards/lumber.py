"""Board feet: the exact volume, and the count a hardwood yard writes on the bill.

A yard rounds the surface measure (width in inches times length in feet over 12) to a whole number before it multiplies
by the thickness, so its count differs from the volume. Yards differ among themselves too: the quantity on the bill is
what the cost uses, and what is worked out here stands beside it.

Not modelled: softwood scale, log rules, footage added for drying, yards that round every width up.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.lengths import NANOMETRES

INCH = NANOMETRES["in"]
FOOT = NANOMETRES["ft"]
CUBIC_INCHES = 144  # in a board foot
HALF = Fraction(1, 2)

Nanometres = int | Fraction


class LumberError(ValueError):
    """A board that cannot be measured; the text says what to write."""


@dataclass(frozen=True)
class Board:
    """A board as measured: nanometres; the thickness nominal (8/4 is 2 in) where it is sold by quarters."""

    thickness: Nanometres
    width: Nanometres
    length: Nanometres


@dataclass(frozen=True)
class Tally:
    """What the yard counts: surface measure in whole square feet, and board feet."""

    surface_measure: int
    board_feet: Fraction


def board_feet(thickness: Nanometres, width: Nanometres, length: Nanometres) -> Fraction:
    """Return the exact board feet of a board, as if every fraction counted.

    Takes:   nanometres, each over 0.
    Returns: board feet (1 board foot is 144 cubic inches), not rounded.
    Raises:  LumberError when a size is 0 or less.
    Source:  NIST Handbook 44 App. C (from memory); definition read in the UCUM unit file.

    >>> board_feet(2 * INCH, 6 * INCH + INCH // 4, 8 * FOOT)
    Fraction(25, 3)
    """
    _check(thickness, width, length)
    return Fraction(thickness) * Fraction(width) * Fraction(length) / (CUBIC_INCHES * INCH**3)


def surface_measure(width: Nanometres, length: Nanometres) -> Fraction:
    """Return the exact surface measure of a board.

    Takes:   nanometres, each over 0.
    Returns: square feet, not rounded: width in inches times length in feet over 12.
    Raises:  LumberError when a size is 0 or less.
    Source:  https://www.americanhardwood.org/en/american-hardwood/grading-sawn-lumber/measurement

    >>> surface_measure(6 * INCH + INCH // 4, 8 * FOOT)
    Fraction(25, 6)
    """
    _check(width, length)
    return Fraction(width) * Fraction(length) / FOOT**2


def tally(
    thickness: Nanometres, width: Nanometres, length: Nanometres, *, half_goes_up: bool = True, least: Nanometres = INCH
) -> Tally:
    """Return what a hardwood yard counts for one board.

    Takes:   nanometres, each over 0, the thickness nominal; which way an exact half goes; the thickness below which a
             board counts as that thick (0 where the yard does not do so).
    Returns: the surface measure, the length cut to whole feet before and the product rounded to a whole number after,
             and that times the thickness.
    Raises:  LumberError when a size is 0 or less.
    Source:  https://www.americanhardwood.org/en/american-hardwood/grading-sawn-lumber/measurement ; under 1 in counted
             as 1 in: a merchant's glossary (weak, yards differ).

    >>> tally(2 * INCH, 6 * INCH + INCH // 4, 8 * FOOT)
    Tally(surface_measure=4, board_feet=Fraction(8, 1))
    """
    _check(thickness, width, length)
    measure = _to_whole(_whole_feet_measure(width, length), half_goes_up=half_goes_up)
    return Tally(measure, measure * Fraction(max(thickness, least)) / INCH)


def tally_all(boards: Iterable[Board], *, least: Nanometres = INCH) -> list[Tally]:
    """Return what the yard counts for each board of a pile, exact halves going up and down in turn.

    Takes:   boards in the order they are measured; `least` as for `tally`.
    Returns: one Tally a board, in that order. The first exact half goes up, the next down, and so on.
    Raises:  LumberError when a size is 0 or less.
    Source:  a wood-drying specialist on the hardwood rule,
             http://www.woodweb.com/knowledge_base/Rounding_Numbers_when_Figuring.html

    >>> [count.surface_measure for count in tally_all([Board(INCH, 6 * INCH, 9 * FOOT)] * 4)]
    [5, 4, 5, 4]
    """
    up, counts = True, []
    for board in boards:
        counts.append(tally(board.thickness, board.width, board.length, half_goes_up=up, least=least))
        if _is_half(_whole_feet_measure(board.width, board.length)):
            up = not up
    return counts


def bundle_size(width: Nanometres, length: Nanometres, *, half_goes_up: bool = True) -> tuple[int, int]:
    """Return the width and length written on a bundle tally.

    Takes:   nanometres, each over 0; which way an exact half inch of width goes (up and down in turn over a bundle).
    Returns: whole inches and whole feet; a length always drops to the whole foot.
    Raises:  LumberError when a size is 0 or less.
    Source:  https://www.americanhardwood.org/en/american-hardwood/grading-sawn-lumber/measurement

    >>> bundle_size(5 * INCH + INCH // 4, 8 * FOOT + FOOT // 2)
    (5, 8)
    """
    _check(width, length)
    return _to_whole(Fraction(width) / INCH, half_goes_up=half_goes_up), Fraction(length) // FOOT


def bundle_sizes(boards: Iterable[Board]) -> list[tuple[int, int]]:
    """Return the widths and lengths written on a bundle tally, exact half inches going up and down in turn.

    Takes:   boards in the order they are measured; their thickness plays no part.
    Returns: whole inches and whole feet, one pair a board. The first exact half goes up, the next down, and so on.
    Raises:  LumberError when a size is 0 or less.
    Source:  https://www.americanhardwood.org/en/american-hardwood/grading-sawn-lumber/measurement

    >>> bundle_sizes([Board(INCH, 5 * INCH + INCH // 2, 8 * FOOT)] * 3)
    [(6, 8), (5, 8), (6, 8)]
    """
    up, written = True, []
    for board in boards:
        written.append(bundle_size(board.width, board.length, half_goes_up=up))
        if _is_half(Fraction(board.width) / INCH):
            up = not up
    return written


def _check(*sizes: Nanometres) -> None:
    if any(size <= 0 for size in sizes):
        raise LumberError("Write each size of the board, over 0.")


def _whole_feet_measure(width: Nanometres, length: Nanometres) -> Fraction:
    return Fraction(width) / INCH * (Fraction(length) // FOOT) / 12


def _is_half(value: Fraction) -> bool:
    return value % 1 == HALF


def _to_whole(value: Fraction, *, half_goes_up: bool) -> int:
    if _is_half(value) and not half_goes_up:
        return int(value // 1)
    return int((value + HALF) // 1)
