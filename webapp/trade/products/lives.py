"""How long glues and finishes keep: closed, opened, mixed, and whether frost spoils them.

Shorter end of what sources say. What is printed on the tin comes first; how it was kept counts for more than its age.

Not modelled: heat in a van, lids left off.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.products.figures import Figure, practice
from webapp.trade.sources import (
    CONVERSION_PAGE,
    HIDE_SELLER,
    OILY_EXOTICS,
    READ,
    RECALLED,
    TWO_PART_PAGE,
    WEAK,
    Source,
)

CLOSED = "closed"
OPENED = "opened"
MIXED = "mixed"
FROZEN = "frozen"
YEAR = 365
HALF_YEAR = 182

_GLUE_DATES = Source("todayshomeowner.com on the life of wood glue, after a glue maker", READ)
_GLUE_LIVES = Source("how-to pages on how long glue keeps (weak)", WEAK)
_HIDE_DATES = Source("popularwoodworking.com, rethink the rules of liquid hide glue", READ)
_CA_LIFE = Source("two woodturners' pages on cyanoacrylate (weak)", WEAK)
_SHELLAC = Source("a finishing shop's tip and a cabinetmaker's diary on old shellac (weak)", WEAK)
_SHELLAC_TIN = Source(
    "a woodworking magazine's page, three years from the date on the tin, after its maker (weak)", WEAK
)
_FROST = Source("engineerfix.com on paint that froze (weak); a wood-care maker on freezing and thawing", WEAK)


@dataclass(frozen=True, slots=True)
class Life:
    """How long something keeps, in days and hours; None: no limit known.

    `fails`: past it, it does not harden or hold, whatever a test says. `frost`: "spoils", "test" or nothing.
    """

    closed_days: int | None = None
    opened_days: int | None = None
    mixed_hours: float | None = None
    fails: bool = False
    frost: str = ""
    test: str = "Try it on scrap first."
    known: tuple[Figure, ...] = ()


_OIL = Life(
    opened_days=YEAR,
    test="Skim the skin off, strain it, and see that a thin coat dries on glass overnight.",
    known=(practice(OPENED, 365, 365, "day"),),
)
_PVA = Life(
    closed_days=YEAR,
    opened_days=YEAR,
    frost="test",
    test="If it comes out stringy or lumpy and shaking does not mend it, it is past use.",
    known=(
        Figure(CLOSED, 1, 2, "year", _GLUE_DATES, "ten and more when kept well"),
        Figure(OPENED, 1, 2, "year", _GLUE_LIVES),
        Figure(FROZEN, None, None, "", _FROST, "stands it a few times"),
    ),
)
_WATERBORNE = Life(
    closed_days=2 * YEAR,
    opened_days=YEAR,
    frost="spoils",
    test="Stir it: lumps or grains mean that it is past use.",
    known=(
        practice(CLOSED, 730, 730, "day"),
        practice(OPENED, 365, 365, "day"),
        Figure(FROZEN, None, None, "", _FROST, "breaks"),
    ),
)
_SHELLAC_LIFE = Life(
    closed_days=3 * YEAR,
    opened_days=HALF_YEAR,
    mixed_hours=HALF_YEAR * 24,
    fails=True,
    test="Brush some on scrap: after 15 min it must be dry and even, after a day too hard for a fingernail.",
    known=(
        Figure(CLOSED, 3, 3, "year", _SHELLAC_TIN, "mixed by its maker"),
        Figure(OPENED, 6, 12, "month", _SHELLAC),
        Figure(MIXED, 6, 12, "month", _SHELLAC, "from flakes"),
    ),
)

LIVES: Mapping[str, Life] = MappingProxyType(
    {
        **dict.fromkeys(("yellow PVA", "water-resistant PVA", "waterproof PVA", "white PVA"), _PVA),
        "liquid hide glue": Life(
            YEAR,
            YEAR,
            fails=True,
            test="Pull it between two fingers: it must draw threads.",
            known=(
                Figure(CLOSED, 12, 18, "month", _HIDE_DATES, "longer when cool and shut"),
                Figure(OPENED, 12, 18, "month", _HIDE_DATES),
            ),
        ),
        "hot hide glue": Life(
            mixed_hours=168,
            fails=True,
            test="If it smells bad, is mouldy or no longer gels when it cools, throw it away.",
            known=(Figure(MIXED, 1, 4, "week", HIDE_SELLER, "soaked or melted, in the refrigerator; dry it keeps"),),
        ),
        "UF powder glue": Life(
            YEAR,
            HALF_YEAR,
            4,
            fails=True,
            test="Powder that is lumpy has begun to set.",
            known=(
                practice(CLOSED, 365, 365, "day"),
                practice(OPENED, 182, 365, "day"),
                practice(MIXED, 4, 5, "h", "at 70 °F; less when warm"),
            ),
        ),
        "PU glue": Life(
            YEAR,
            HALF_YEAR,
            test="If it is thick or has a skin inside the bottle, throw it away.",
            known=(practice(CLOSED, 365, 365, "day"), Figure(OPENED, 6, 12, "month", _GLUE_LIVES)),
        ),
        "slow epoxy": Life(
            2 * YEAR,
            YEAR,
            20 / 60,
            test="Resin that has gone cloudy is warmed until it is clear; a small mix must harden overnight.",
            known=(
                Figure(CLOSED, 2, 3, "year", _GLUE_LIVES),
                practice(OPENED, 365, 730, "day"),
                practice(MIXED, 20, 60, "min", "in the pot"),
            ),
        ),
        "contact cement": Life(
            YEAR,
            YEAR,
            test="If it strings or gels, throw it away.",
            known=(practice(CLOSED, 365, 730, "day"), practice(OPENED, 365, 365, "day")),
        ),
        "CA glue": Life(
            YEAR,
            HALF_YEAR,
            test="If it is thicker than it was, it holds less.",
            known=(practice(CLOSED, 365, 365, "day"), Figure(OPENED, 6, 12, "month", _CA_LIFE)),
        ),
        **dict.fromkeys(("shellac", "dewaxed shellac sealer"), _SHELLAC_LIFE),
        "pre-catalysed lacquer": Life(
            HALF_YEAR,
            HALF_YEAR,
            fails=True,
            test="A coat on glass must be hard overnight.",
            known=(Figure(CLOSED, 6, 6, "month", OILY_EXOTICS), Figure(OPENED, 6, 6, "month", OILY_EXOTICS)),
        ),
        "conversion varnish": Life(
            YEAR,
            YEAR,
            8,
            fails=True,
            known=(
                practice(CLOSED, 365, 365, "day"),
                practice(OPENED, 365, 365, "day"),
                Figure(MIXED, 8, 8, "h", CONVERSION_PAGE, "mix for one day"),
                Figure(MIXED, 24, 24, "h", RECALLED, "some labels"),
            ),
        ),
        "two-part polyurethane": Life(
            YEAR,
            HALF_YEAR,
            4,
            fails=True,
            test="Hardener that is cloudy or has crystals has drawn water.",
            known=(
                practice(CLOSED, 365, 365, "day"),
                practice(OPENED, 182, 365, "day", "the hardener"),
                practice(MIXED, 4, 4, "h"),
                Figure(MIXED, None, 24, "h", TWO_PART_PAGE, "in a spray can"),
            ),
        ),
        "milk paint": Life(mixed_hours=24, fails=True, known=(practice(MIXED, 24, 24, "h", "it turns like milk"),)),
        **dict.fromkeys(
            ("waterborne polyurethane", "waterborne paint", "water stain", "waterborne grain filler"), _WATERBORNE
        ),
        **dict.fromkeys(
            (
                *("boiled linseed oil", "raw linseed oil", "pure tung oil", "oil-varnish blend", "hardwax oil"),
                *("wiping varnish", "brushing varnish", "oil-based polyurethane varnish", "oil paint"),
                *("oil stain", "gel stain", "oil grain filler"),
            ),
            _OIL,
        ),
    }
)
