"""How many layers of a stock make a thickness, once surfacing has taken its part from each.

The trap: 3 1/2 in out of 8/4 is not two layers, for what is sold as 2 in leaves 1 3/4 in when it is flat, and out of
4/4 it is five, not four.

Not modelled: the glue line (it adds no thickness that could be measured), spring-back of bent laminations.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.trade.boards.lumber import LumberError, Nanometres


@dataclass(frozen=True)
class Layers:
    """So many layers, each planed to `each`, make exactly the thickness wanted; sizes in nanometres."""

    count: int
    net: Fraction  # what surfacing leaves of one layer
    each: Fraction  # what each may be planed to, so that all together are just enough
    over: Fraction  # what is left to plane away if the layers stay as thick as they are

    @property
    def glue_lines(self) -> int:
        return self.count - 1


def layers(thickness: Nanometres, stock: Nanometres, taken: Nanometres, *, taken_after: Nanometres = 0) -> Layers:
    """Return how many layers make a thickness.

    Takes:   nanometres: the thickness wanted, the stock as it is bought, what surfacing takes from each layer (both
             faces together), what is taken from the whole once it is glued.
    Returns: the fewest layers that are thick enough.
    Raises:  LumberError when a thickness is not over 0, something taken is under 0, or nothing is left of a layer.
    Source:  plain arithmetic; what surfacing takes is in `dressed` or measured.

    >>> layers(88_900_000, 25_400_000, 4_762_500).count, layers(88_900_000, 50_800_000, 6_350_000).count
    (5, 2)
    """
    if thickness <= 0 or stock <= 0:
        raise LumberError("Write the thickness wanted and that of the stock, over 0.")
    if taken < 0 or taken_after < 0:
        raise LumberError("What surfacing takes cannot be less than 0.")
    net, wanted = Fraction(stock) - taken, Fraction(thickness) + taken_after
    if net <= 0:
        raise LumberError("Surfacing takes all of the stock. Buy thicker stock, or take less.")
    count = -(-wanted // net)
    return Layers(count, net, wanted / count, count * net - wanted)
