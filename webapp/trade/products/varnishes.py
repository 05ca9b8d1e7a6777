"""Generic varnishes and waterborne finishes: films that are brushed, wiped or sprayed and sanded between.

Oil varnish hardens by oxygen, a waterborne film by its drops flowing into each other when the water has left. Neither
follows the doubling of a glue, and nobody gives a rule: in the cold or damp the label's hours are too short, test it.

Not modelled: how thick a coat is, and moving air.
"""

from collections.abc import Mapping
from typing import Any

from webapp.trade.products.figures import (
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
    THREE_WEEKS,
    TWO_WEEKS,
    WARM_SHOP,
    Family,
    Figure,
    figures,
    practice,
    stages,
    window,
)
from webapp.trade.sources import ARMY_COLD, FLOORS, ONE_DAY, REGIONAL, SLOW_FINISHES, STAIN_UNDER_WATERBORNE

_COLD = (
    WARM_SHOP,
    Figure(LOWEST, 50, 50, "°F", ARMY_COLD),
    Figure(LOWEST_FOR, 8, 8, "h", SLOW_FINISHES, "overnight"),
)
_OVER_OIL = practice(f"{OVER}oil", 72, 72, "h")


def _varnish() -> Mapping[str, Any]:
    return figures(
        lowest=10.0,
        lowest_for_hours=8,
        stages=stages(dust_free=8, light_use=72, full_cure=MONTH),
        recoat=[window(24, "sand")],
        recoat_over={"oil": [window(72)]},
        dust_free=DUST_FREE,
    )


_USE = practice(LIGHT_USE, 3, 3, "day")
_FUMES = ("oily-rags", "solvents", "open-flame")

VARNISHES: tuple[Family, ...] = (
    Family(
        "wiping varnish",
        FINISH,
        "varnish",
        _varnish(),
        (
            Figure(DUST_FREE, 6, 8, "h", REGIONAL),
            Figure(NEXT_COAT, None, None, "", ONE_DAY, "overnight, and sanded"),
            practice(NEXT_COAT, 8, 24, "h"),
            practice(FULL_CURE, 7, 30, "day"),
            _USE,
            _OVER_OIL,
            *_COLD,
        ),
        cautions=_FUMES,
        usual=True,
    ),
    Family(
        "brushing varnish",
        FINISH,
        "varnish",
        _varnish(),
        (
            Figure(DUST_FREE, 6, 8, "h", REGIONAL),
            Figure(NEXT_COAT, None, None, "", ONE_DAY, "overnight, and sanded"),
            practice(NEXT_COAT, 24, 24, "h"),
            practice(FULL_CURE, 14, 30, "day"),
            _USE,
            _OVER_OIL,
            *_COLD,
        ),
        cautions=_FUMES,
    ),
    Family(
        "oil-based polyurethane varnish",
        FINISH,
        "varnish",
        _varnish(),
        (
            practice(DUST_FREE, 4, 8, "h"),
            practice(NEXT_COAT, 8, 24, "h"),
            Figure(NEXT_COAT, 24, 24, "h", FLOORS),
            Figure(NEXT_COAT, None, 2, "h", FLOORS, "some labels: put yours in"),
            Figure(NEXT_COAT, 72, None, "h", FLOORS, "on these, when the 2 h are missed, sanded"),
            practice(FULL_CURE, 14, 30, "day"),
            _USE,
            _OVER_OIL,
            *_COLD,
        ),
        cautions=_FUMES,
        usual=True,
    ),
    Family(
        "waterborne polyurethane",
        FINISH,
        "waterborne",
        figures(
            lowest=10.0,
            lowest_for_hours=8,
            humidity_max=80,
            stages=stages(dust_free=1, light_use=48, full_cure=THREE_WEEKS),
            recoat=[window(4, to=24), window(24, "sand")],
            recoat_over={"oil": [window(TWO_WEEKS)], "stain": [window(72)]},
            dust_free=DUST_FREE,
        ),
        (
            practice(DUST_FREE, 30, 60, "min"),
            practice(NEXT_COAT, 2, 4, "h"),
            Figure(NEXT_COAT, 6, 6, "h", FLOORS),
            practice(NEXT_COAT, 24, None, "h", "sanded"),
            practice(LIGHT_USE, 2, 2, "day"),
            practice(FULL_CURE, 7, 21, "day"),
            practice(HUMIDITY, 80, 80, "%"),
            practice(f"{OVER}oil", 14, 14, "day"),
            Figure(
                f"{OVER}stain", 72, 72, "h", STAIN_UNDER_WATERBORNE, "oil stain; a barrier of dewaxed shellac helps"
            ),
            *_COLD,
        ),
        cautions=("solvents",),
        also=("waterborne finish", "water-based polyurethane"),
        usual=True,
    ),
)
