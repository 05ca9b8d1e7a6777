"""Generic shellac and lacquers: films of solvent that leaves fast, the stronger ones with a hardener.

What only dries melts into the coat below and may be coated again at any time; what hardens has a window, and once mixed
a life of hours. Damp air turns the first kind white: both of the trade's rules for it are kept, humidity and dew point.

Not modelled: thickness, of which hardened lacquer takes no more than 3 to 5 thousandths of an inch before it cracks.
"""

from webapp.trade.products.figures import (
    DEW_GAP,
    DUST_FREE,
    FINISH,
    FULL_CURE,
    HUMIDITY,
    LIGHT_USE,
    LOWEST,
    LOWEST_FOR,
    MONTH,
    NEXT_COAT,
    OVER,
    TWO_WEEKS,
    WARM_SHOP,
    WEEK,
    Family,
    Figure,
    figures,
    practice,
    stages,
    window,
)
from webapp.trade.sources import ARMY_SHELLAC, BLUSH, CONVERSION, OVER_GLAZE, RECALLED, TWO_PART_PAGE

_DAMP = (
    Figure(HUMIDITY, 65, 65, "%", BLUSH),
    Figure(DEW_GAP, 20, 20, "°F apart", BLUSH),
)
_SHELLAC = figures(
    humidity_max=65,
    dew_gap=11.1111,
    stages=stages(dust_free=1, light_use=24, full_cure=WEEK),
    recoat=[window(3)],
    recoat_over={"oil": [window(72)]},
    dust_free=DUST_FREE,
)
_SHELLAC_KNOWN = (
    Figure(DUST_FREE, 1, 1, "h", ARMY_SHELLAC, "to touch and handle"),
    Figure(NEXT_COAT, 2, 3, "h", ARMY_SHELLAC),
    Figure(LIGHT_USE, 24, 24, "h", ARMY_SHELLAC, "hard"),
    practice(NEXT_COAT, 1, 3, "h", "to sand"),
    practice(FULL_CURE, 7, 7, "day"),
    practice(f"{OVER}oil", 72, 72, "h"),
    WARM_SHOP,
    *_DAMP,
)
_OVER = {"oil": [window(TWO_WEEKS)], "stain": [window(72)]}
_OVER_KNOWN = (
    Figure(f"{OVER}oil", 24, None, "h", OVER_GLAZE, "after 24 h over an oil glaze it wrinkled"),
    practice(f"{OVER}oil", 14, 14, "day"),
    practice(f"{OVER}stain", 72, 72, "h"),
)
_FUMES = ("solvents", "open-flame", "spraying")

LACQUERS: tuple[Family, ...] = (
    Family(
        "shellac",
        FINISH,
        "shellac",
        _SHELLAC,
        _SHELLAC_KNOWN,
        cautions=("solvents", "open-flame"),
        usual=True,
    ),
    Family(
        "dewaxed shellac sealer",
        FINISH,
        "shellac",
        _SHELLAC,
        _SHELLAC_KNOWN,
        note="The barrier between layers that do not like each other: without its wax other finishes hold on it",
        cautions=("solvents", "open-flame"),
        also=("dewaxed shellac",),
    ),
    Family(
        "nitrocellulose lacquer",
        FINISH,
        "lacquer",
        figures(
            humidity_max=65,
            dew_gap=11.1111,
            stages=stages(dust_free=0.5, light_use=48, full_cure=MONTH),
            recoat=[window(2)],
            recoat_over=_OVER,
            dust_free=DUST_FREE,
        ),
        (
            practice(DUST_FREE, 10, 30, "min"),
            practice(NEXT_COAT, 0.5, 2, "h"),
            practice(LIGHT_USE, 48, 48, "h"),
            practice(FULL_CURE, 14, 30, "day"),
            WARM_SHOP,
            *_DAMP,
            *_OVER_KNOWN,
        ),
        cautions=_FUMES,
        also=("lacquer", "nitro"),
        usual=True,
    ),
    Family(
        "pre-catalysed lacquer",
        FINISH,
        "catalysed lacquer",
        figures(
            lowest=15.55,
            lowest_for_hours=8,
            humidity_max=65,
            dew_gap=11.1111,
            stages=stages(dust_free=0.5, light_use=48, full_cure=MONTH),
            recoat=[window(1, to=24), window(24, "sand")],
            recoat_over=_OVER,
            dust_free=DUST_FREE,
        ),
        (
            practice(DUST_FREE, 10, 30, "min"),
            practice(NEXT_COAT, 0.5, 1, "h"),
            practice(NEXT_COAT, 24, None, "h", "sanded"),
            practice(LIGHT_USE, 48, 48, "h"),
            practice(FULL_CURE, 14, 30, "day"),
            Figure(LOWEST, 60, 60, "°F", RECALLED),
            practice(LOWEST_FOR, 8, 8, "h"),
            WARM_SHOP,
            *_DAMP,
            *_OVER_KNOWN,
        ),
        cautions=(*_FUMES, "formaldehyde"),
    ),
    Family(
        "conversion varnish",
        FINISH,
        "catalysed lacquer",
        figures(
            lowest=15.55,
            lowest_for_hours=8,
            stages=stages(dust_free=0.5, light_use=72, full_cure=MONTH),
            recoat=[window(1, to=8), window(24, "sand")],
            recoat_over=_OVER,
            dust_free=DUST_FREE,
        ),
        (
            practice(DUST_FREE, 20, 30, "min"),
            practice(NEXT_COAT, 1, 8, "h", "inside one day; later it no longer takes the next coat"),
            practice(NEXT_COAT, 24, None, "h", "sanded"),
            practice(LIGHT_USE, 3, 3, "day"),
            practice(FULL_CURE, 21, 30, "day"),
            Figure(LOWEST, 60, 60, "°F", CONVERSION),
            practice(LOWEST_FOR, 8, 8, "h"),
            WARM_SHOP,
            *_OVER_KNOWN,
        ),
        note="Mixed with acid by weight: too little never hardens, too much goes brittle",
        cautions=(*_FUMES, "formaldehyde"),
        also=("conversion lacquer",),
    ),
    Family(
        "two-part polyurethane",
        FINISH,
        "two-part polyurethane",
        figures(
            lowest=15.55,
            lowest_for_hours=24,
            stages=stages(dust_free=1, light_use=72, full_cure=2 * WEEK),
            recoat=[window(2, to=8), window(24, "sand")],
            recoat_over=_OVER,
            dust_free=DUST_FREE,
        ),
        (
            practice(DUST_FREE, 30, 60, "min"),
            practice(NEXT_COAT, 2, 8, "h"),
            Figure(NEXT_COAT, 24, 72, "h", TWO_PART_PAGE, "to sand"),
            practice(LIGHT_USE, 3, 3, "day"),
            practice(FULL_CURE, 7, 14, "day"),
            Figure(LOWEST, 60, 60, "°F", RECALLED),
            practice(LOWEST_FOR, 24, 24, "h"),
            WARM_SHOP,
            *_OVER_KNOWN,
        ),
        cautions=("isocyanates", *_FUMES),
        also=("2K polyurethane",),
    ),
)
