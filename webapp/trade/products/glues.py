"""Generic glues: what a joint needs from the open bottle to full strength. PVA and hide here, the rest in `resins`.

A wait is the longer end of what the sources say, an open time the shorter one; where they disagree, a trade magazine
comes before the popular glue table. Clamp times here are for a plain joint: `webapp.trade.products.joints` has the
others.

Not modelled: pressure, spread, and how hard the wood drinks.
"""

from webapp.trade.products.figures import (
    CLOSED,
    DOUBLES_PER,
    FULL_STRENGTH,
    GLUE,
    GLUE_AT,
    GRABS,
    LOWEST,
    LOWEST_FOR,
    OPEN,
    OUT_OF_CLAMPS,
    PER_15_F,
    PLANING,
    RATED_AT,
    WARM_SHOP,
    WOOD_AT,
    Family,
    Figure,
    figures,
    practice,
    tend,
    wet_joint,
)
from webapp.trade.products.resins import RESINS
from webapp.trade.sources import BOTTLE, COLD_DOUBLES, COLD_GLUES, COLD_NIGHT, GLUE_TABLE, HIDE_SELLER, NAVY, OPEN_TIMES

_UNSTRESSED = "joints that bear nothing yet, and not strained for a day"
_RUBBED = "rubbed joints only: two faces that fit, rubbed until they hold"
_SCRAPE = tend("scrape", 30, 30, 10)
_DOUBLING = (
    Figure(RATED_AT, 70, 70, "°F", COLD_DOUBLES),
    Figure(DOUBLES_PER, 15, 15, "°F colder", COLD_DOUBLES, "clamps and full strength"),
)
_FOR_A_DAY = Figure(LOWEST_FOR, 24, 24, "h", COLD_NIGHT, "36 h near the limit")
_CLOSED_PVA = practice(CLOSED, 5, 10, "min")


def _pva(name: str, lowest: float, open_minutes: int, known: tuple[Figure, ...], closed: int = 5) -> Family:
    """Return one of the PVA glues, which share their rule for the cold, the week before planing and the squeeze-out."""
    return Family(
        name,
        GLUE,
        "pva",
        figures(
            doubles_per=PER_15_F,
            lowest=lowest,
            open_minutes=open_minutes,
            stages=wet_joint(1, 24),
            tend=[_SCRAPE],
        ),
        (*known, *_DOUBLING, PLANING, _FOR_A_DAY, _CLOSED_PVA, practice("scrape", 30, 30, "min")),
        closed_minutes=closed,
        usual=True,
    )


PVA: tuple[Family, ...] = (
    _pva(
        "yellow PVA",
        10.0,
        10,
        (
            Figure(OUT_OF_CLAMPS, 1, 1, "h", COLD_DOUBLES),
            Figure(FULL_STRENGTH, 24, 24, "h", COLD_DOUBLES),
            Figure(OUT_OF_CLAMPS, 30, 30, "min", GLUE_TABLE, _UNSTRESSED),
            Figure(OPEN, 10, 10, "min", OPEN_TIMES),
            Figure(OPEN, 5, 5, "min", GLUE_TABLE),
            Figure(LOWEST, 50, 50, "°F", COLD_GLUES),
        ),
    ),
    _pva(
        "water-resistant PVA",
        12.77,
        5,
        (
            Figure(OPEN, 5, 5, "min", GLUE_TABLE),
            Figure(OUT_OF_CLAMPS, 60, 60, "min", GLUE_TABLE),
            practice(FULL_STRENGTH, 24, 24, "h"),
            Figure(LOWEST, 55, 55, "°F", COLD_GLUES),
        ),
    ),
    _pva(
        "waterproof PVA",
        8.33,
        15,
        (
            Figure(OPEN, 15, 15, "min", OPEN_TIMES),
            practice(OUT_OF_CLAMPS, 1, 1, "h"),
            Figure(OUT_OF_CLAMPS, 30, None, "min", BOTTLE, _UNSTRESSED),
            Figure(FULL_STRENGTH, 24, 24, "h", BOTTLE),
            Figure(LOWEST, 47, 47, "°F", COLD_GLUES),
        ),
    ),
    _pva(
        "white PVA",
        10.0,
        20,
        (
            Figure(OPEN, 20, 20, "min", OPEN_TIMES),
            Figure(OPEN, 5, 5, "min", GLUE_TABLE),
            Figure(GRABS, None, 30, "min", NAVY, "above 50 °F"),
            Figure(OUT_OF_CLAMPS, None, 60, "min", NAVY, "above 50 °F, ordinary work"),
            Figure(OUT_OF_CLAMPS, 60, 60, "min", GLUE_TABLE),
            Figure(LOWEST, 50, 50, "°F", NAVY),
            Figure(WOOD_AT, 70, 70, "°F", NAVY),
            practice(FULL_STRENGTH, 24, 24, "h"),
        ),
        closed=10,
    ),
)

HIDE: tuple[Family, ...] = (
    Family(
        "liquid hide glue",
        GLUE,
        "hide glue",
        figures(lowest=10.0, open_minutes=20, stages=wet_joint(12, 24)),
        (
            Figure(OPEN, 20, 20, "min", OPEN_TIMES),
            Figure(OPEN, 10, 10, "min", GLUE_TABLE),
            Figure(OUT_OF_CLAMPS, 12, 12, "h", GLUE_TABLE, "longer when damp"),
            practice(FULL_STRENGTH, 24, 24, "h"),
            practice(LOWEST, 50, 50, "°F"),
            practice(LOWEST_FOR, 24, 24, "h"),
            practice(CLOSED, 10, 20, "min"),
            WARM_SHOP,
            PLANING,
        ),
        closed_minutes=10,
        usual=True,
    ),
    Family(
        "hot hide glue",
        GLUE,
        "hide glue",
        figures(open_minutes=1, stages=wet_joint(12, 24)),
        (
            Figure(OUT_OF_CLAMPS, 0, 0, "h", GLUE_TABLE, _RUBBED),
            Figure(GLUE_AT, 160, 160, "°F", GLUE_TABLE),
            Figure(GLUE_AT, 140, 145, "°F", HIDE_SELLER, "over 150 °F it weakens"),
            practice(OUT_OF_CLAMPS, 12, 12, "h", "all other joints: overnight"),
            practice(OPEN, 1, 2, "min"),
            practice(CLOSED, 1, 2, "min"),
            practice(FULL_STRENGTH, 24, 24, "h"),
            WARM_SHOP,
            PLANING,
        ),
        note="It gels on cold wood: warm the parts",
        cautions=("hide-glue-heat",),
        closed_minutes=1,
        usual=True,
    ),
)

GLUES: tuple[Family, ...] = (*PVA, *HIDE, *RESINS)
