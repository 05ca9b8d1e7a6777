"""What a clash is, and the groups of families its rows speak of."""

from dataclasses import dataclass

from webapp.trade.sources import Source

WATER_GLUES = frozenset({"pva", "hide glue", "uf"})
GLUES = WATER_GLUES | {"pu", "epoxy", "ca"}
WATERY = frozenset({"waterborne", "water stain", "dye", "milk paint"})
OILS = frozenset({"oil", "hardwax oil"})
OXYGEN = OILS | {"varnish", "oil paint"}
HOT = frozenset({"lacquer", "catalysed lacquer", "two-part polyurethane"})
FILMS = HOT | {"varnish", "waterborne", "shellac", "oil paint"}


@dataclass(frozen=True, slots=True)
class Clash:
    """One row: its key, a few words to head it, what happens and what to do, the source, and when it holds.

    `product` and `over` are families, of what is opened and of a layer under it; `wood` is a trait of `woods`; `kinds`
    are kinds of operation; `words` is searched in what the maker wrote, and in the name of the whole piece too with
    `of_the_piece`; `but` in the name of the layer under it, which then does no harm; `water` are classes of
    `durability`, one of which what is opened must usually reach.
    """

    key: str
    title: str
    says: str
    source: Source
    product: frozenset[str] = frozenset()
    over: frozenset[str] = frozenset()
    wood: str = ""
    kinds: frozenset[str] = frozenset()
    words: str = ""
    but: str = ""
    of_the_piece: bool = False
    water: frozenset[str] = frozenset()
