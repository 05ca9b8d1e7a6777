"""What goes badly together, told before the tin is opened.

It looks at the product, the layers under it, the wood and what the maker wrote, and returns the rows of
`clashes_layers` and `clashes_wood` that hold. A shop's own product is known by its family. What is not known gives no
warning, which is no promise: a sample tells more.

Not modelled: brands of one system that are made for each other; a label that allows it wins.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.clashes.clash import Clash
from webapp.trade.clashes.layers import CLASHES_OF_LAYERS
from webapp.trade.clashes.wood import CLASHES_OF_WOOD
from webapp.trade.products.durability import water_class
from webapp.trade.products.families import families_of
from webapp.trade.wood.woods import traits

__all__ = ["CLASHES", "Clash", "Layer", "clashes"]

CLASHES: tuple[Clash, ...] = (*CLASHES_OF_LAYERS, *CLASHES_OF_WOOD)

_WORDS: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {one.key: re.compile(rf"\b(?:{one.words})\b", re.I) for one in CLASHES if one.words}
)
_BUT: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {one.key: re.compile(one.but, re.I) for one in CLASHES if one.but}
)


@dataclass(frozen=True, slots=True)
class Layer:
    """A product of a shop where it lies: what it is called and the family it says it is of."""

    name: str
    family: str = ""

    @property
    def families(self) -> frozenset[str]:
        """Return the generic families it may be one of, and its own word where it is none of them."""
        return frozenset(one.family for one in families_of(self.name, self.family)) or frozenset({self.family})

    @property
    def water(self) -> str:
        """Return how well it usually stands water: the name of a class, nothing where none is known."""
        found = water_class(self.name, self.family)
        return found.name if found else ""


def clashes(
    product: Layer | None,
    over: Iterable[Layer] = (),
    *,
    species: str = "",
    kind: str = "",
    words: str = "",
    piece: str = "",
) -> tuple[Clash, ...]:
    """Return what goes badly together in an operation.

    Takes:   the product that is about to be opened, if there is one; the layers under it, glue included, in any order;
             the wood, the kind of operation, what the maker wrote of it, and what the whole piece is called, in
             English.
    Returns: the rows that hold, in the order of the table; none is no promise.
    Raises:  nothing.
    Source:  each row carries its own.

    >>> [one.key for one in clashes(Layer("our varnish", "varnish"), [Layer("tung", "oil")], kind="coat")]
    ['film-over-oil']
    """
    opened = product.families if product else frozenset()
    below = [(layer.name, layer.families) for layer in over]
    known = traits(f"{species} {words}")
    return tuple(
        one
        for one in CLASHES
        if (not one.product or one.product & opened)
        and (not one.water or (product is not None and product.water in one.water))
        and (not one.over or any(_holds_over(one, *layer) for layer in below))
        and (not one.wood or one.wood in known)
        and (not one.kinds or kind in one.kinds)
        and (not one.words or _WORDS[one.key].search(f"{words} {piece}" if one.of_the_piece else words))
    )


def _holds_over(clash: Clash, name: str, families: frozenset[str]) -> bool:
    return bool(clash.over & families) and (clash.key not in _BUT or not _BUT[clash.key].search(name))
