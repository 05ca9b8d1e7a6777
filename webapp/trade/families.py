"""Glue and finish families a shop starts its own products from. No brands: a label beats every figure here.

Where a source gives a range, a wait is its longer end and an open time its shorter one; where sources disagree, a trade
magazine comes before the popular glue table. Temperatures and their differences are in °C: 21.1111 is 70 °F, and
doubling per 8.3333 °C is doubling per 15 °F. A family whose sources give no rule for the cold has none (null): its
hours then count one for one.

Not modelled: contact cement, catalysed lacquers, paint, and sealing between layers that do not like each other.

This file is longer than 300 lines: it is one table.
"""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

GLUE = "glue"
FINISH = "finish"

OUT_OF_CLAMPS = "out of clamps"
READY_TO_PLANE = "ready to plane"
FULL_STRENGTH = "full strength"
DUST_FREE = "dust free"
LIGHT_USE = "light use"
FULL_CURE = "full cure"

ROOM = 21.1111  # 70 °F
PER_15_F = 8.3333
PER_10_C = 10.0
WEEK = 168.0
TWO_WEEKS = 336.0
THREE_WEEKS = 504.0
MONTH = 720.0
SOURCE_DATE = "2026-11-25"

# The keys of a product in the shop document, without its name and family, and what they are where nothing is known.
NOTHING_KNOWN: Mapping[str, Any] = MappingProxyType(
    {
        "rated_at": ROOM,
        "doubles_per": None,
        "faster_when_warm": False,
        "faster_per": None,
        "lowest": None,
        "lowest_for_hours": 24,
        "counts_above": None,
        "humidity_max": None,
        "dew_gap": None,
        "open_minutes": None,
        "stages": [],
        "tend": [],
        "recoat": [],
        "recoat_over": {},
        "missed_needs": ["scuff"],
        "dust_free": None,
    }
)


class FamilyError(ValueError):
    """A family that is not in the list; the text says what it was."""


@dataclass(frozen=True)
class Family:
    """A kind of glue or finish as one shop might use it, and where each figure comes from."""

    name: str
    use: str
    family: str
    figures: Mapping[str, Any]
    source: str
    cautions: tuple[str, ...] = ()
    source_date: str = SOURCE_DATE

    def data(self) -> dict[str, Any]:
        """Return the figures as a copy that may be kept and changed."""
        return deepcopy(dict(self.figures))

    def as_product(self) -> dict[str, Any]:
        """Return a product of the shop document in °C, a copy that may be changed."""
        return {"name": self.name, "family": self.family, **self.data()}


def family(name: str) -> Family:
    """Return the family of that name.

    Takes:   the name as in FAMILIES.
    Returns: the Family.
    Raises:  FamilyError when there is none of that name.
    Source:  each family carries its own.

    >>> family("yellow PVA").figures["open_minutes"], family("shellac").use
    (10, 'finish')
    """
    if name not in _BY_NAME:
        raise FamilyError(f"There is no family “{name}” in the list. Make a product of your own from its label.")
    return _BY_NAME[name]


def _figures(**known: Any) -> Mapping[str, Any]:
    return MappingProxyType({**NOTHING_KNOWN, **known})


def _stages(**hours: float) -> list[dict[str, Any]]:
    return [{"name": name.replace("_", " "), "hours": long} for name, long in hours.items()]


def _wet_joint(out_of_clamps: float, full_strength: float) -> list[dict[str, Any]]:
    """Stages of a water-based glue: the water leaves the wood by its own rule, not by the glue's."""
    dry = {"name": READY_TO_PLANE, "hours": WEEK, "doubles_per": None}
    return [*_stages(out_of_clamps=out_of_clamps, full_strength=full_strength), dry]


def _tend(key: str, at: int, within: int, minutes: int) -> dict[str, Any]:
    return {"key": key, "at_minutes": at, "within_minutes": within, "minutes": minutes}


def _from(hours: float, *needs: str, to: float | None = None) -> dict[str, Any]:
    window: dict[str, Any] = {"from_hours": hours}
    if to is not None:
        window["to_hours"] = to
    return {**window, "needs": list(needs)} if needs else window


_SCRAPE = _tend("scrape", 30, 30, 10)
_WIPE_OIL = [_tend("wipe", 20, 10, 20), _tend("look", 60, 60, 5)]

_TABLE_OF_GLUES = "a popular glue table (weak), woodworkingarchive.biz/biscuit-joiners/glue-characteristics.html"
_NAVY = "Navy manual NAVEDTRA 14119, enginemechanics.tpub.com/14119/Fastening-Materials-81.html"
_OPEN_TIMES = "woodmagazine.com/woodworking-plans/clamping/glue-ups"
_DOUBLING = "twice as long per 15 °F under 70 °F: woodmagazine.com/glues/give-the-glue-time"
_LOWEST = "Lowest temperature: finewoodworking.com/2010/01/01/which-glues-work-in-cold-temperatures"
_PLANING = "7 days before planing an edge joint: woodweb.com/knowledge_base/Aching_Glue_Joints.html"
_SQUEEZE_OUT = "Squeeze-out scraped at 30 min: common practice, no source"
_TEN_DEGREES = "Twice as long per 10 °C colder: a chemist's rule of thumb (6 to 15 °C), makewoodgood.co.uk"
_ARMY = "Army TM 43-0139 para 2-23"
_COLD_PAINT = "Lowest 50 °F: Army TM 43-0139 para 5-31, for 8 h: popularwoodworking.com slow-drying finishes"
_COLD_OIL = "No drying under 50 °F: engineerfix.com on tung oil (weak)"
_DAMP = "65 % and a dew point gap of 20 °F: woodweb.com/knowledge_base/Avoiding_Blush.html"
_PRACTICE = "common practice, no source"
_BLEED_OUT = f"Wiping at 20 min and looking again for oil that bleeds out: {_PRACTICE}"

GLUES: tuple[Family, ...] = (
    Family(
        "yellow PVA",
        GLUE,
        "pva",
        _figures(doubles_per=PER_15_F, lowest=10.0, open_minutes=10, stages=_wet_joint(1, 24), tend=[_SCRAPE]),
        f"Clamps 1 h, full strength 24 h at 70 °F, {_DOUBLING}. Open time 10 min: {_OPEN_TIMES} (the glue table says"
        f" 5). {_LOWEST}. {_PLANING}. {_SQUEEZE_OUT}.",
    ),
    Family(
        "water-resistant PVA",
        GLUE,
        "pva",
        _figures(doubles_per=PER_15_F, lowest=12.77, open_minutes=5, stages=_wet_joint(1, 24), tend=[_SCRAPE]),
        f"Open time 5 min, clamps 1 h: {_TABLE_OF_GLUES}. Full strength 24 h: {_PRACTICE}; {_DOUBLING}. {_LOWEST}."
        f" {_PLANING}. {_SQUEEZE_OUT}.",
    ),
    Family(
        "waterproof PVA",
        GLUE,
        "pva",
        _figures(doubles_per=PER_15_F, lowest=8.33, open_minutes=15, stages=_wet_joint(1, 24), tend=[_SCRAPE]),
        f"Open time 15 min: {_OPEN_TIMES}. Clamps 1 h, full strength 24 h: {_PRACTICE}; {_DOUBLING}. {_LOWEST}, kept"
        f" for 24 h (36 h near the limit): lumberjocks.com/replies/588247. {_PLANING}. {_SQUEEZE_OUT}.",
    ),
    Family(
        "white PVA",
        GLUE,
        "pva",
        _figures(doubles_per=PER_15_F, lowest=10.0, open_minutes=20, stages=_wet_joint(1, 24), tend=[_SCRAPE]),
        f"Open time 20 min: {_OPEN_TIMES} (the glue table says 5). Clamps 1 h, above 50 °F: {_NAVY}. Full strength"
        f" 24 h: {_PRACTICE}; {_DOUBLING}. {_PLANING}. {_SQUEEZE_OUT}.",
    ),
    Family(
        "liquid hide glue",
        GLUE,
        "hide glue",
        _figures(lowest=10.0, open_minutes=20, stages=_wet_joint(12, 24)),
        f"Open time 20 min: {_OPEN_TIMES} (the glue table says 10). Clamps 12 h, longer when damp: {_TABLE_OF_GLUES}."
        f" Full strength 24 h, lowest 50 °F: {_PRACTICE}. {_PLANING}.",
    ),
    Family(
        "hot hide glue",
        GLUE,
        "hide glue",
        _figures(open_minutes=1, stages=_wet_joint(12, 24)),
        f"Open time 1 to 2 min, clamps overnight, full strength 24 h: {_PRACTICE}. It gels on cold wood: warm the"
        f" parts. {_PLANING}.",
        ("hide-glue-heat",),
    ),
    Family(
        "UF powder glue",
        GLUE,
        "uf",
        _figures(
            rated_at=32.2222,
            doubles_per=18.9947,
            faster_when_warm=True,
            faster_per=5.5556,
            lowest=18.33,
            open_minutes=15,
            stages=_wet_joint(8, 16),
        ),
        "Figures are for 90 °F. Clamps 12 h at 70 °F, 8 h at 90 °F, halved per 10 °F above that:"
        " woodweb.com/knowledge_base/Speeding_Up_Urea.html; the rule under 90 °F is drawn through those two. Full"
        f" strength 24 h at 70 °F: {_NAVY}. Open time 15 to 20 min:"
        f" woodweb.com/knowledge_base/Veneer_pressing_time.html. Lowest 65 °F: from memory. {_PLANING}.",
        ("formaldehyde",),
    ),
    Family(
        "PU glue",
        GLUE,
        "pu",
        _figures(
            lowest=4.44,
            open_minutes=20,
            stages=_stages(out_of_clamps=4, ready_to_plane=24, full_strength=24),
        ),
        f"Open time 20 to 30 min: {_OPEN_TIMES}. Clamps 1 to 4 h, full cure 24 h, slow in dry air: {_PRACTICE}."
        f" {_LOWEST}.",
        ("isocyanates",),
    ),
    Family(
        "slow epoxy",
        GLUE,
        "epoxy",
        _figures(
            doubles_per=PER_10_C,
            lowest=10.0,
            open_minutes=20,
            stages=_stages(out_of_clamps=24, ready_to_plane=72, full_strength=WEEK),
            recoat=[_from(2, to=6), _from(20, "wash", "sand")],
        ),
        f"Pot life 20 to 60 min, held still 6 to 24 h, full cure 5 to 7 days: {_PRACTICE}. {_TEN_DEGREES}. Lowest 50"
        " °F: from memory. Next coat while tacky, or after washing and then sanding: an epoxy maker's magazine; its"
        " hours from memory, the touch test decides.",
        ("epoxy",),
    ),
)

FINISHES: tuple[Family, ...] = (
    Family(
        "shellac",
        FINISH,
        "shellac",
        _figures(
            humidity_max=65,
            dew_gap=11.1111,
            stages=_stages(dust_free=1, light_use=24, full_cure=WEEK),
            recoat=[_from(3)],
            recoat_over={"oil": [_from(72)]},
            dust_free=DUST_FREE,
        ),
        f"Handle 1 h, recoat 2 to 3 h, hard 24 h: {_ARMY}. {_DAMP}. Full cure 7 days, over oil 72 h: {_PRACTICE}.",
        ("solvents", "open-flame"),
    ),
    Family(
        "wiping varnish",
        FINISH,
        "varnish",
        _figures(
            doubles_per=PER_10_C,
            lowest=10.0,
            lowest_for_hours=8,
            stages=_stages(dust_free=8, light_use=72, full_cure=MONTH),
            recoat=[_from(24, "sand")],
            recoat_over={"oil": [_from(72)]},
            dust_free=DUST_FREE,
        ),
        "Dry 6 to 8 h: a regional magazine guide (weak), newengland.com. Overnight and sanding before the next coat:"
        f" popularwoodworking.com. Full cure 7 to 30 days, light use 3 days, over oil 72 h: {_PRACTICE}."
        f" {_TEN_DEGREES}. {_COLD_PAINT}.",
        ("oily-rags", "solvents", "open-flame"),
    ),
    Family(
        "oil-based polyurethane varnish",
        FINISH,
        "varnish",
        _figures(
            doubles_per=PER_10_C,
            lowest=10.0,
            lowest_for_hours=8,
            stages=_stages(dust_free=8, light_use=72, full_cure=MONTH),
            recoat=[_from(24, "sand")],
            recoat_over={"oil": [_from(72)]},
            dust_free=DUST_FREE,
        ),
        "Touch-dry 4 to 8 h, recoat 8 to 24 h, full cure 14 to 30 days, light use 3 days, over oil 72 h:"
        f" {_PRACTICE}; 24 h to the next coat: a floor-finish article (weak). Some labels ask for the next coat"
        f" within 2 h or after 72 h: put yours in. {_TEN_DEGREES}. {_COLD_PAINT}.",
        ("oily-rags", "solvents", "open-flame"),
    ),
    Family(
        "waterborne finish",
        FINISH,
        "waterborne",
        _figures(
            doubles_per=PER_10_C,
            lowest=10.0,
            lowest_for_hours=8,
            humidity_max=80,
            stages=_stages(dust_free=1, light_use=48, full_cure=THREE_WEEKS),
            recoat=[_from(4, to=24), _from(24, "sand")],
            recoat_over={"oil": [_from(TWO_WEEKS)], "stain": [_from(72)]},
            dust_free=DUST_FREE,
        ),
        "Touch-dry 30 to 60 min, recoat 2 to 4 h, full cure 7 to 21 days, light use 2 days, sanding after a day, 80 %"
        f" humidity, waits over oil and stain: {_PRACTICE}. {_TEN_DEGREES}. {_COLD_PAINT}.",
        ("solvents",),
    ),
    Family(
        "boiled linseed oil",
        FINISH,
        "oil",
        _figures(
            doubles_per=PER_10_C,
            counts_above=10.0,
            humidity_max=70,
            stages=_stages(light_use=WEEK, full_cure=MONTH),
            tend=_WIPE_OIL,
            recoat=[_from(72)],
        ),
        f"Recoat 24 to 72 h, full cure 14 to 30 days, light use 7 days, 70 % humidity: {_PRACTICE}. {_BLEED_OUT}."
        f" {_TEN_DEGREES}. {_COLD_OIL}.",
        ("oily-rags",),
    ),
    Family(
        "wiping oil",
        FINISH,
        "oil",
        _figures(
            doubles_per=PER_10_C,
            counts_above=10.0,
            humidity_max=70,
            stages=_stages(light_use=72, full_cure=MONTH),
            tend=_WIPE_OIL,
            recoat=[_from(24)],
        ),
        "An oil-varnish blend. Recoat 12 to 24 h, full cure 7 to 30 days, light use 3 days, 70 % humidity:"
        f" {_PRACTICE}. {_BLEED_OUT}. {_TEN_DEGREES}. {_COLD_OIL}.",
        ("oily-rags", "solvents"),
    ),
    Family(
        "pure tung oil",
        FINISH,
        "oil",
        _figures(
            doubles_per=PER_10_C,
            counts_above=10.0,
            humidity_max=70,
            stages=_stages(light_use=TWO_WEEKS, full_cure=MONTH),
            tend=_WIPE_OIL,
            recoat=[_from(72)],
        ),
        "About 2 weeks when warm, hardly at all when cold or damp: sawmillcreek.org/archive/index.php/t-127931.html."
        f" Two to three days between coats: how-to pages (weak). Full cure 30 days, 70 % humidity: {_PRACTICE}."
        f" {_BLEED_OUT}. {_TEN_DEGREES}. {_COLD_OIL}.",
        ("oily-rags",),
    ),
    Family(
        "hardwax oil",
        FINISH,
        "hardwax oil",
        _figures(
            doubles_per=PER_10_C,
            counts_above=10.0,
            humidity_max=70,
            stages=_stages(light_use=72, full_cure=THREE_WEEKS),
            tend=[_tend("wipe", 10, 10, 20)],
            recoat=[_from(24)],
        ),
        "Touch-dry 8 to 12 h, recoat 12 to 24 h, full cure 7 to 21 days, light use 3 days, wiping at 10 min, 70 %"
        f" humidity: {_PRACTICE}. {_TEN_DEGREES}. {_COLD_OIL}.",
        ("oily-rags", "solvents"),
    ),
    Family(
        "lacquer",
        FINISH,
        "lacquer",
        _figures(
            humidity_max=65,
            dew_gap=11.1111,
            stages=_stages(dust_free=0.5, light_use=48, full_cure=MONTH),
            recoat=[_from(2)],
            recoat_over={"oil": [_from(TWO_WEEKS)], "stain": [_from(72)]},
            dust_free=DUST_FREE,
        ),
        f"Nitrocellulose. Touch-dry 10 to 30 min, recoat 30 min to 2 h, full cure 14 to 30 days: {_PRACTICE}."
        f" {_DAMP}. It wrinkled over an oil glaze after 24 h:"
        " woodweb.com/knowledge_base/Wrinkled_lacquer_over_glaze.html; the longer waits over oil and stain:"
        f" {_PRACTICE}.",
        ("solvents", "open-flame", "spraying"),
    ),
    Family(
        "soap",
        FINISH,
        "soap",
        _figures(
            stages=_stages(light_use=24, full_cure=72),
            tend=[_tend("wipe", 10, 10, 15)],
            recoat=[_from(12)],
        ),
        "All figures from memory.",
    ),
    Family(
        "wax",
        FINISH,
        "wax",
        _figures(
            stages=_stages(light_use=24, full_cure=WEEK),
            tend=[_tend("buff", 20, 20, 20)],
            recoat=[_from(24)],
        ),
        "Paste wax with solvent. All figures from memory.",
        ("oily-rags", "solvents"),
    ),
    Family(
        "oil stain",
        FINISH,
        "stain",
        _figures(doubles_per=PER_10_C, tend=[_tend("wipe", 10, 5, 15)], recoat=[_from(24)]),
        "8 to 24 h to the next layer, more when cold:"
        " woodweb.com/knowledge_base/Troubleshooting_an_Adhesion_Problem.html and a how-to page. Wiping at 10 min:"
        f" {_PRACTICE}. {_TEN_DEGREES}. Test that it is dry before sealing.",
        ("oily-rags", "solvents"),
    ),
    Family(
        "gel stain",
        FINISH,
        "stain",
        _figures(doubles_per=PER_10_C, tend=[_tend("wipe", 3, 3, 15)], recoat=[_from(72)]),
        f"24 to 72 h to the next layer: engineerfix.com on stain (weak). Wiping at 3 min: {_PRACTICE}. {_TEN_DEGREES}.",
        ("oily-rags", "solvents"),
    ),
    Family(
        "dye",
        FINISH,
        "dye",
        _figures(recoat=[_from(24)]),
        "Water dye, 24 h to the finish: woodrio.com on wood dye (weak).",
    ),
)

FAMILIES: tuple[Family, ...] = (*GLUES, *FINISHES)

_BY_NAME: Mapping[str, Family] = MappingProxyType({one.name: one for one in FAMILIES})
