"""Generic oils, wax and soap: what soaks in, is wiped off and takes its time.

An oil hardens by taking up oxygen. Warm and dry is quicker, cold or damp hardly at all, and nobody gives a rule for how
much: hours under 50 °F do not count, and the cloth decides, not the clock.

Not modelled: how thick it was left, and driers.
"""

from collections.abc import Mapping
from typing import Any

from webapp.trade.products.figures import (
    COUNTS_ABOVE,
    FINISH,
    FULL_CURE,
    HUMIDITY,
    LIGHT_USE,
    MONTH,
    NEXT_COAT,
    THREE_WEEKS,
    TOUCH_DRY,
    TWO_WEEKS,
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
from webapp.trade.sources import COLD_OIL, RAW_LINSEED, RECALLED, TUNG_PAGES, TUNG_THREAD

_WIPE = [tend("wipe", 20, 10, 20), tend("look", 60, 60, 5)]
_WIPED = (
    practice("wipe", 20, 20, "min"),
    practice("look", 60, 60, "min", "again for oil that bleeds out"),
)
_AIR = (
    WARM_SHOP,
    Figure(COUNTS_ABOVE, 50, 50, "°F", COLD_OIL),
    practice(HUMIDITY, 50, 70, "%"),
)


def _oil(light_use: float, full_cure: float, next_coat: float) -> Mapping[str, Any]:
    return figures(
        counts_above=10.0,
        humidity_max=70,
        stages=stages(light_use=light_use, full_cure=full_cure),
        tend=_WIPE,
        recoat=[window(next_coat)],
    )


OILS: tuple[Family, ...] = (
    Family(
        "boiled linseed oil",
        FINISH,
        "oil",
        _oil(WEEK, MONTH, 72),
        (
            practice(TOUCH_DRY, 24, 72, "h"),
            practice(NEXT_COAT, 24, 72, "h"),
            practice(FULL_CURE, 14, 30, "day"),
            practice(LIGHT_USE, 7, 7, "day"),
            *_WIPED,
            *_AIR,
        ),
        cautions=("oily-rags",),
        usual=True,
    ),
    Family(
        "raw linseed oil",
        FINISH,
        "oil",
        _oil(MONTH, 3 * MONTH, WEEK),
        (
            practice(NEXT_COAT, 3, 7, "day", "days to weeks between coats"),
            Figure(FULL_CURE, 14, 90, "day", RAW_LINSEED, "weeks to months, for it has no driers"),
            practice(LIGHT_USE, 14, 30, "day"),
            *_WIPED,
            *_AIR,
        ),
        cautions=("oily-rags",),
    ),
    Family(
        "pure tung oil",
        FINISH,
        "oil",
        _oil(TWO_WEEKS, MONTH, 72),
        (
            Figure(LIGHT_USE, 14, 14, "day", TUNG_THREAD, "when warm; hardly at all when cold or damp"),
            Figure(NEXT_COAT, 2, 3, "day", TUNG_PAGES, "weeks when left thick"),
            practice(FULL_CURE, 30, 30, "day"),
            *_WIPED,
            *_AIR,
        ),
        cautions=("oily-rags",),
        usual=True,
    ),
    Family(
        "oil-varnish blend",
        FINISH,
        "oil",
        _oil(72, MONTH, 24),
        (
            practice(TOUCH_DRY, 6, 12, "h"),
            practice(NEXT_COAT, 12, 24, "h"),
            practice(FULL_CURE, 7, 30, "day"),
            practice(LIGHT_USE, 3, 3, "day"),
            *_WIPED,
            *_AIR,
        ),
        cautions=("oily-rags", "solvents"),
        also=("wiping oil", "Danish oil"),
        usual=True,
    ),
    Family(
        "hardwax oil",
        FINISH,
        "hardwax oil",
        figures(
            counts_above=10.0,
            humidity_max=70,
            stages=stages(light_use=72, full_cure=THREE_WEEKS),
            tend=[tend("wipe", 10, 10, 20)],
            recoat=[window(24)],
        ),
        (
            practice(TOUCH_DRY, 8, 12, "h"),
            practice(NEXT_COAT, 12, 24, "h"),
            practice(FULL_CURE, 7, 21, "day"),
            practice(LIGHT_USE, 3, 3, "day"),
            practice("wipe", 10, 10, "min"),
            *_AIR,
        ),
        cautions=("oily-rags", "solvents"),
        usual=True,
    ),
    Family(
        "wax",
        FINISH,
        "wax",
        figures(stages=stages(light_use=24, full_cure=WEEK), tend=[tend("buff", 20, 20, 20)], recoat=[window(24)]),
        (
            Figure(NEXT_COAT, 24, 24, "h", RECALLED),
            Figure(LIGHT_USE, 24, 24, "h", RECALLED),
            Figure(FULL_CURE, 7, 7, "day", RECALLED),
            Figure("buff", 20, 20, "min", RECALLED),
            WARM_SHOP,
        ),
        note="Paste wax with solvent. Nothing sticks over it, so it is the last layer",
        cautions=("oily-rags", "solvents", "open-flame"),
        usual=True,
    ),
    Family(
        "soap",
        FINISH,
        "soap",
        figures(stages=stages(light_use=24, full_cure=72), tend=[tend("wipe", 10, 10, 15)], recoat=[window(12)]),
        (
            Figure(NEXT_COAT, 12, 12, "h", RECALLED),
            Figure(LIGHT_USE, 24, 24, "h", RECALLED),
            Figure(FULL_CURE, 72, 72, "h", RECALLED),
            Figure("wipe", 10, 10, "min", RECALLED),
            WARM_SHOP,
        ),
        note="Natural soap flakes in hot water, for bare pale wood; it is soaped again as often as once a month",
        usual=True,
    ),
)
