"""What the sizes on a line of wood make in board feet: the exact volume, and what a yard would count.

Both only stand beside the quantity on the bill, which is what the cost uses.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.boards.lumber import Board, board_feet, tally_all
from webapp.trade.lengths import Length
from webapp.trade.numerals import half_up


@dataclass(frozen=True)
class Measured:
    """Board feet of all pieces of one line."""

    exact: Fraction
    tally: Fraction

    @property
    def says(self) -> str:
        return f"by its sizes {feet(self.exact)} bd ft, by the yard's tally {feet(self.tally)} bd ft"


def measure(pieces: int, thickness: Length | None, width: Length | None, length: Length | None) -> Measured | None:
    """Return the board feet of so many equal pieces, none where a size is missing or nothing."""
    sizes = [size.exact for size in (thickness, width, length) if size is not None and size.exact > 0]
    if len(sizes) < 3 or pieces < 1:
        return None
    exact = board_feet(*sizes) * pieces
    return Measured(exact, sum((count.board_feet for count in tally_all([Board(*sizes)] * pieces)), Fraction(0)))


def feet(amount: Fraction) -> str:
    """Return board feet as they are written: 8, 8.33."""
    return f"{half_up(amount * 100) / 100:.2f}".rstrip("0").rstrip(".")
