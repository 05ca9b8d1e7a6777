"""Generic stains, dyes, paints and grain filler: what colours or fills, and what the layer over it waits for.

A stain that feels dry holds oil or solvent that keeps the next film from holding. The figures are for a warm shop; in
the cold they are too short, nobody gives a rule, and a test on the piece comes before the sealer.

Not modelled: several colours that must meet wet.
"""

from webapp.trade.products.figures import (
    DUST_FREE,
    FINISH,
    FULL_CURE,
    LIGHT_USE,
    LOWEST,
    LOWEST_FOR,
    MONTH,
    NEXT_COAT,
    OVER,
    WARM_SHOP,
    WEEK,
    Family,
    Figure,
    figures,
    practice,
    stages,
    tend,
    window,
)
from webapp.trade.sources import (
    ARMY_COLD,
    DYE_PAGE,
    FILLER_PAGE,
    FILLER_SELLER,
    GEL_PAGE,
    MILK_PAGE,
    PAINT_PAGE,
    SLOW_FINISHES,
    STAIN_PEELED,
)

_OILY = ("oily-rags", "solvents")

STAINS: tuple[Family, ...] = (
    Family(
        "oil stain",
        FINISH,
        "stain",
        figures(tend=[tend("wipe", 10, 5, 15)], recoat=[window(24)]),
        (
            Figure(NEXT_COAT, 8, 24, "h", STAIN_PEELED, "4 to 6 h only in a warm shop; test that it is dry"),
            practice("wipe", 10, 10, "min"),
            WARM_SHOP,
        ),
        cautions=_OILY,
        usual=True,
    ),
    Family(
        "gel stain",
        FINISH,
        "stain",
        figures(tend=[tend("wipe", 3, 3, 15)], recoat=[window(72)]),
        (
            Figure(NEXT_COAT, 24, 72, "h", GEL_PAGE),
            practice("wipe", 3, 3, "min"),
            WARM_SHOP,
        ),
        cautions=_OILY,
        usual=True,
    ),
    Family(
        "water stain",
        FINISH,
        "water stain",
        figures(tend=[tend("wipe", 3, 2, 10)], recoat=[window(12)]),
        (
            practice(NEXT_COAT, 4, 12, "h"),
            practice("wipe", 3, 3, "min"),
            WARM_SHOP,
        ),
        note="It raises the grain: wet and sand the wood before",
    ),
    Family(
        "water dye",
        FINISH,
        "dye",
        figures(recoat=[window(24)]),
        (Figure(NEXT_COAT, 24, 24, "h", DYE_PAGE), WARM_SHOP),
        also=("dye",),
        usual=True,
    ),
    Family(
        "alcohol dye",
        FINISH,
        "dye",
        figures(recoat=[window(1)]),
        (practice(NEXT_COAT, 15, 60, "min"), WARM_SHOP),
        cautions=("solvents", "open-flame"),
    ),
)

PAINTS: tuple[Family, ...] = (
    Family(
        "milk paint",
        FINISH,
        "milk paint",
        figures(
            stages=stages(dust_free=1, light_use=WEEK, full_cure=MONTH),
            recoat=[window(4)],
            dust_free=DUST_FREE,
        ),
        (
            Figure(DUST_FREE, 30, 60, "min", MILK_PAGE),
            practice(NEXT_COAT, 2, 4, "h"),
            practice(LIGHT_USE, 7, 7, "day"),
            practice(FULL_CURE, 30, 30, "day"),
            WARM_SHOP,
        ),
        note="Lime and casein, mixed fresh from powder; it holds on bare wood and not over an old finish",
    ),
    Family(
        "oil paint",
        FINISH,
        "oil paint",
        figures(
            lowest=10.0,
            lowest_for_hours=8,
            stages=stages(dust_free=8, light_use=WEEK, full_cure=MONTH),
            recoat=[window(24, "sand")],
            recoat_over={"oil": [window(72)]},
            dust_free=DUST_FREE,
        ),
        (
            Figure(DUST_FREE, 6, 8, "h", PAINT_PAGE),
            practice(NEXT_COAT, 16, 24, "h", "sanded"),
            Figure(FULL_CURE, 3, 7, "day", PAINT_PAGE),
            practice(FULL_CURE, 14, 30, "day"),
            practice(LIGHT_USE, 7, 7, "day"),
            practice(f"{OVER}oil", 72, 72, "h"),
            Figure(LOWEST, 50, 50, "°F", ARMY_COLD),
            Figure(LOWEST_FOR, 8, 8, "h", SLOW_FINISHES, "overnight"),
            WARM_SHOP,
        ),
        cautions=("oily-rags", "solvents", "open-flame"),
    ),
    Family(
        "waterborne paint",
        FINISH,
        "waterborne",
        figures(
            lowest=10.0,
            lowest_for_hours=8,
            stages=stages(dust_free=2, light_use=WEEK, full_cure=MONTH),
            recoat=[window(4, to=24), window(24, "sand")],
            dust_free=DUST_FREE,
        ),
        (
            Figure(DUST_FREE, 1, 2, "h", PAINT_PAGE),
            practice(NEXT_COAT, 2, 4, "h"),
            practice(NEXT_COAT, 24, None, "h", "sanded"),
            practice(LIGHT_USE, 7, 7, "day"),
            Figure(FULL_CURE, 21, 30, "day", PAINT_PAGE),
            Figure(LOWEST, 50, 50, "°F", ARMY_COLD),
            Figure(LOWEST_FOR, 8, 8, "h", SLOW_FINISHES, "overnight"),
            WARM_SHOP,
        ),
    ),
)

FILLERS: tuple[Family, ...] = (
    Family(
        "oil grain filler",
        FINISH,
        "filler",
        figures(tend=[tend("wipe", 5, 15, 30)], recoat=[window(WEEK, "sand")]),
        (
            Figure("wipe", 5, 20, "min", FILLER_PAGE, "when it turns dull"),
            Figure(NEXT_COAT, 2, 7, "day", FILLER_SELLER),
            WARM_SHOP,
        ),
        cautions=_OILY,
        also=("grain filler",),
    ),
    Family(
        "waterborne grain filler",
        FINISH,
        "filler",
        figures(recoat=[window(4, "sand")]),
        (
            Figure(NEXT_COAT, None, None, "", FILLER_SELLER, "ready to sand in hours"),
            practice(NEXT_COAT, 2, 4, "h"),
            WARM_SHOP,
        ),
    ),
)

COLOURS: tuple[Family, ...] = (*STAINS, *PAINTS, *FILLERS)
