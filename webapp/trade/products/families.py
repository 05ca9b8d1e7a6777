"""Every generic glue and finish a shop starts its own products from. No brands: a label beats every figure here.

The tables are `glues` and `resins`, `oils`, `varnishes`, `lacquers`, `colours`; each figure says its source or "common
practice, no source". A shop begins with the usual ones and takes the others when it needs them; what it has is its own
from then on and is never written over.

Not modelled: mixing, thinning, spray settings.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TypeVar

from webapp.trade.products.colours import COLOURS
from webapp.trade.products.figures import (
    DUST_FREE,
    FINISH,
    FULL_CURE,
    FULL_STRENGTH,
    GLUE,
    LIGHT_USE,
    NOTHING_KNOWN,
    OUT_OF_CLAMPS,
    READY_TO_PLANE,
    ROOM,
    SOURCE_DATE,
    Family,
)
from webapp.trade.products.glues import GLUES
from webapp.trade.products.lacquers import LACQUERS
from webapp.trade.products.oils import OILS
from webapp.trade.products.varnishes import VARNISHES

T = TypeVar("T")

__all__ = [
    "DUST_FREE",
    "FAMILIES",
    "FINISH",
    "FINISHES",
    "FULL_CURE",
    "FULL_STRENGTH",
    "GLUE",
    "GLUES",
    "LIGHT_USE",
    "NOTHING_KNOWN",
    "OUT_OF_CLAMPS",
    "READY_TO_PLANE",
    "ROOM",
    "SOURCE_DATE",
    "USUAL",
    "Family",
    "FamilyError",
    "closed_minutes",
    "families_of",
    "family",
]

FINISHES: tuple[Family, ...] = (*LACQUERS, *VARNISHES, *OILS, *COLOURS)
FAMILIES: tuple[Family, ...] = (*GLUES, *FINISHES)
USUAL: tuple[Family, ...] = tuple(one for one in FAMILIES if one.usual)

_BY_NAME: Mapping[str, Family] = MappingProxyType(
    {name: one for one in FAMILIES for name in one.also} | {one.name: one for one in FAMILIES}
)
_OF_KIND: Mapping[str, tuple[Family, ...]] = MappingProxyType(
    {kind: tuple(one for one in FAMILIES if one.family == kind) for kind in {one.family for one in FAMILIES}}
)


class FamilyError(ValueError):
    """A family that is not in the list; the text says what it was."""


def family(name: str) -> Family:
    """Return the family of that name.

    Takes:   the name as in FAMILIES, or another name for the same.
    Returns: the Family.
    Raises:  FamilyError when there is none of that name.
    Source:  each family carries its own.

    >>> family("yellow PVA").figures["open_minutes"], family("nitro").name
    (10, 'nitrocellulose lacquer')
    """
    if name not in _BY_NAME:
        raise FamilyError(f"There is no family “{name}” in the list. Make a product of your own from its label.")
    return _BY_NAME[name]


def families_of(name: str, kind: str = "") -> tuple[Family, ...]:
    """Return the families that a product of a shop may be one of.

    Takes:   what the product is called; the family it says it is of ("pva", "oil", a name of FAMILIES).
    Returns: the one that is called so; else all of the family; else the one its family is a name of; none where nothing
             is known.
    Raises:  nothing.
    Source:  each family carries its own.

    >>> [one.name for one in families_of("our own glue", "hide glue")]
    ['liquid hide glue', 'hot hide glue']
    """
    own = _BY_NAME.get(name)
    if own and kind in ("", own.family, own.name, *own.also):
        return (own,)
    named = _BY_NAME.get(kind)
    return _OF_KIND.get(kind) or ((named,) if named else ())


def closed_minutes(name: str, kind: str = "") -> int | None:
    """Return how long a glue leaves from closing a joint to full pressure.

    Takes:   what the product is called; the family it says it is of, as `families_of`.
    Returns: minutes; None where nothing is known, or the families that it may be one of do not agree.
    Raises:  nothing.
    Source:  each family carries its own.

    >>> closed_minutes("yellow PVA", "pva"), closed_minutes("our own glue", "hide glue")
    (5, None)
    """
    return agreed(one.closed_minutes for one in families_of(name, kind))


def agreed(values: Iterable[T]) -> T | None:
    """Return the one value that all have; None where they differ, or there is none.

    Takes: values. Returns: one of them. Raises: nothing. Source: none needed.

    >>> agreed([5, 5]), agreed([5, 6]), agreed(list[int]())
    (5, None, None)
    """
    found = set(values)
    return found.pop() if len(found) == 1 else None
