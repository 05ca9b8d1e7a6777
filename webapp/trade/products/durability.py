"""How well a glue line stands water: the classes of the standards, and what the generic glues usually reach.

Not modelled: heat, of which EN 204 says nothing, and structural work, which it is not for.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.products.families import agreed, families_of
from webapp.trade.sources import COMMON, MEMORY, READ

EN_204 = "EN 204 (2016), tested by EN 205: thermoplastic wood glues, not structural"
EN_12765 = "EN 12765 (2001): thermosetting wood glues, not structural"
HP_1 = "ANSI/HPVA HP-1: hardwood plywood"


@dataclass(frozen=True, slots=True)
class WaterClass:
    """One class: what it stands, the shear strengths in N/mm² that its tests ask for, and how that is known.

    `dry` after 7 days; `wet` after 4 days in water, tested wet; `dried` after water and 7 days of drying; `boiled`.
    """

    name: str
    stands: str
    standard: str
    how: str
    dry: float | None = None
    wet: float | None = None
    dried: float | None = None
    boiled: float | None = None

    @property
    def says(self) -> str:
        """Return the class with its standard in short, and what it stands."""
        return f"{self.name} ({self.standard.partition(' (')[0]}): {self.stands}"


CLASSES: tuple[WaterClass, ...] = (
    WaterClass("D1", "inside, wood at 15 % at most", EN_204, MEMORY, dry=10),
    WaterClass("D2", "inside, now and then a little water, wood at 18 % at most", EN_204, MEMORY, dry=10, dried=8),
    WaterClass("D3", "inside and often wet for short, or outside under a roof", EN_204, MEMORY, dry=10, wet=2, dried=8),
    WaterClass("D4", "inside and often wet for long, or outside under paint", EN_204, MEMORY, dry=10, wet=4, boiled=4),
    WaterClass("C1 to C4", "the same steps for glues that set for good", EN_12765, READ),
    WaterClass("Type I", "waterproof: boiled twice and sheared", HP_1, MEMORY),
    WaterClass("Type II", "water-resistant: soaked three times and looked at", HP_1, MEMORY),
)

_BY_NAME: Mapping[str, WaterClass] = MappingProxyType({one.name: one for one in CLASSES})
# What generic glues usually reach; a label that names its class is what counts.
_USUAL: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "white PVA": ("D1", COMMON),
        "yellow PVA": ("D2", COMMON),
        "water-resistant PVA": ("D3", COMMON),
        "waterproof PVA": ("D4", COMMON),
        "PU glue": ("D4", COMMON),
        "UF powder glue": ("C1 to C4", COMMON),
    }
)


def water_class(name: str, kind: str = "") -> WaterClass | None:
    """Return the class that a glue of a shop usually reaches.

    Takes:   what it is called; the family it says it is of, as `families_of`.
    Returns: its class; None where none is usual (hide glue stands no damp, epoxy is not tested so), where no glue is
             known, or the glues that it may be do not agree.
    Raises:  nothing.
    Source:  common practice, no source; each class carries its standard.

    >>> water_class("waterproof PVA", "pva").says
    'D4 (EN 204): inside and often wet for long, or outside under paint'
    >>> water_class("our own glue", "pva") is None
    True
    """
    usual = agreed(_USUAL.get(one.name) for one in families_of(name, kind))
    return _BY_NAME[usual[0]] if usual else None
