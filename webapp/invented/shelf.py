"""What lies on the shelves of the invented shop: tins, a meter with its table, boards that are not dry yet."""

from typing import NamedTuple

from webapp.invented.script import Amount, Bill, Moisture
from webapp.trade.wood.moisture_house import Target
from webapp.trade.wood.species import TYPED


class Can(NamedTuple):
    """A tin of a product; days before now it was made, opened and used up, days from now it is good for."""

    product: str
    batch: str = ""
    made: int | None = None
    opened: int | None = None
    good: int | None = None
    gone: int | None = None


CANS = (
    Can("yellow PVA", "L 0417", opened=310, gone=66),
    Can("yellow PVA", "L 0552", opened=66, good=480),
    Can("oil-varnish blend", opened=41),
    Can("wiping varnish", made=150),
    Can("hardwax oil", "7 B", opened=96),
    Can("liquid hide glue", "29", opened=188, good=170),
    Can("shellac", made=300, opened=247),  # too old: it will not harden
)

METER = "Pin meter"
# °C of the wood and what to add there; the woods its manual names and what to add for each
BY_TEMPERATURE = ((5.0, 1.4), (10.0, 0.9), (15.0, 0.5), (20.0, 0.0), (30.0, -0.9))
BY_SPECIES = (
    *(("white oak", -0.4), ("white ash", 0.0), ("black cherry", 0.0), ("black walnut", 0.2)),
    *(("hard maple", 0.0), ("American elm", 0.0)),
)

# the shop's own wood, days after it was first read
STOCK_AGO, STOCK_WOOD = 75, "white oak"
STOCK = (Moisture(0, 9.6), Moisture(28, 9.3), Moisture(56, 9.1), Moisture(71, 9.0))

# on the shelf for so many days, for no piece yet, and not dry
BOARDS_AGO, BOARDS_WOOD = 39, "white oak"
BOARDS = Bill(
    "wood",
    "White oak, 65 mm, for a chest one day",
    Amount("0.068", "m³", "2150"),
    Amount("29", "bd ft", "8.90"),
    "the sawmill on the hill",
    0,
    ("65 mm", "10/4"),
    6,
    (Moisture(2, 14.0, 10, "the middle of the thickest"), Moisture(16, 13.0, 15), Moisture(31, 12.5)),
)

# % of the wood over the year where the pieces go, typed by the maker, if no place of the handbook's is near
USUAL = Target("own figures", 7.0, 11.0, None, "typed by the maker", TYPED)
