"""A figure of a glue or finish and where it is from, and the families made of such figures.

A figure says what it is of, its range where sources differ, its unit, who says so, and, where it holds for a special
case only, which. The product of the shop document is what a shop begins with; its every number lies in the range of the
figures beside it. Nothing here is a label: a label beats it.

Temperatures of a product and their differences are in °C: 21.1111 is 70 °F, and doubling per 8.3333 °C is doubling per
15 °F. Where nobody gives a rule for the cold there is none (null), which is not the same as "the cold does nothing":
see `webapp.trade.air.warmth`.
"""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from webapp.trade.sources import PRACTICE, SUNKEN_JOINTS, Source

GLUE = "glue"
FINISH = "finish"

OUT_OF_CLAMPS = "out of clamps"
READY_TO_PLANE = "ready to plane"
FULL_STRENGTH = "full strength"
DUST_FREE = "dust free"
LIGHT_USE = "light use"
FULL_CURE = "full cure"

# What a figure may be of, beside the names of stages and the keys of tending; "over oil" and the like are made of OVER.
RATED_AT = "times are for"
DOUBLES_PER = "twice as long per"
FASTER_PER = "half as long per"
LOWEST = "lowest"
LOWEST_FOR = "lowest kept for"
COUNTS_ABOVE = "hours count above"
HUMIDITY = "air no damper than"
DEW_GAP = "above the dew point by"
OPEN = "open time"
CLOSED = "closed time"
NEXT_COAT = "next coat"
OVER = "over "
# Told, but no figure of a product.
GRABS = "first grab"
GLUE_AT = "glue at"
WOOD_AT = "wood at"
CURES_AT = "cures at"
TOUCH_DRY = "dry to the touch"

ROOM = 21.1111  # 70 °F
PER_15_F = 8.3333
PER_18_F = 10.0
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


@dataclass(frozen=True, slots=True)
class Figure:
    """What one source says: `of` what, from `low` to `high` `unit`; with `case`, only there."""

    of: str
    low: float | None
    high: float | None
    unit: str
    source: Source
    case: str = ""

    def says(self) -> str:
        """Return the figure in words.

        Takes:   nothing.
        Returns: what it is of, its range with the unit, and the case in brackets.
        Raises:  nothing.
        Source:  its own.

        >>> Figure("out of clamps", 1, 4, "h", PRACTICE, "longer in dry air").says()
        'out of clamps 1 to 4 h (longer in dry air)'
        """
        return " ".join(filter(None, [self.of, self._range(), f"({self.case})" if self.case else ""]))

    def _range(self) -> str:
        if self.low is None and self.high is None:
            return ""
        if self.high == 0:
            return "none"
        if self.low is None or self.high is None:
            return f"up to {self._with_unit(self.high)}" if self.low is None else f"from {self._with_unit(self.low)}"
        return ("" if self.low == self.high else f"{self.low:g} to ") + self._with_unit(self.high)

    def _with_unit(self, count: float | None) -> str:
        many = "s" if self.unit in ("day", "week", "month", "year") and count != 1 else ""
        return f"{count:g} {self.unit}{many}"


@dataclass(frozen=True, slots=True)
class Family:
    """A kind of glue or finish as one shop might use it, with where each figure comes from.

    `closed_minutes` is the time from closing the joint to full pressure, which the shop document has no place for;
    `also` are other names for the same. A new shop begins with the `usual` ones.
    """

    name: str
    use: str
    family: str
    figures: Mapping[str, Any]
    known: tuple[Figure, ...]
    note: str = ""
    cautions: tuple[str, ...] = ()
    closed_minutes: int | None = None
    also: tuple[str, ...] = ()
    usual: bool = False
    source_date: str = SOURCE_DATE

    @property
    def source(self) -> str:
        """Return where every figure comes from, as it is kept beside a product of a shop."""
        groups: dict[Source, list[str]] = {}
        for figure in self.known:
            groups.setdefault(figure.source, []).append(figure.says())
        said = [f"{', '.join(figures)}: {source.name}" for source, figures in groups.items()]
        return " ".join(f"{text[:1].upper()}{text[1:]}." for text in (*said, *filter(None, [self.note])))

    def data(self) -> dict[str, Any]:
        """Return the figures as a copy that may be kept and changed."""
        return deepcopy(dict(self.figures))


def figures(**known: Any) -> Mapping[str, Any]:
    """Return the figures of a product of the shop document, with nothing known where nothing is said.

    Takes:   keys of NOTHING_KNOWN.
    Returns: every key; read only.
    Raises:  nothing.
    Source:  the shop document, "products".

    >>> figures(open_minutes=10)["open_minutes"], figures()["rated_at"]
    (10, 21.1111)
    """
    return MappingProxyType({**NOTHING_KNOWN, **known})


def stages(**hours: float) -> list[dict[str, Any]]:
    """Return stages of the shop document.

    Takes:   hours by the name of the stage, with _ for a space.
    Returns: the stages in that order.
    Raises:  nothing.
    Source:  the shop document, "products".

    >>> stages(dust_free=1, full_cure=24)
    [{'name': 'dust free', 'hours': 1}, {'name': 'full cure', 'hours': 24}]
    """
    return [{"name": name.replace("_", " "), "hours": long} for name, long in hours.items()]


def wet_joint(out_of_clamps: float, full_strength: float) -> list[dict[str, Any]]:
    """Return the stages of a water-based glue: the water leaves the wood by no known rule, not by the glue's.

    Takes:   hours to the end of clamping and to full strength.
    Returns: three stages; "ready to plane" after a week, with a rule of its own that is none.
    Raises:  nothing.
    Source:  a week: university extension text on sunken joints, woodweb.com/knowledge_base/Aching_Glue_Joints.html.

    >>> wet_joint(1, 24)[2]
    {'name': 'ready to plane', 'hours': 168.0, 'doubles_per': None}
    """
    dry = {"name": READY_TO_PLANE, "hours": WEEK, "doubles_per": None}
    return [*stages(out_of_clamps=out_of_clamps, full_strength=full_strength), dry]


def tend(key: str, at: int, within: int, minutes: int) -> dict[str, Any]:
    """Return short work inside a wait.

    Takes:   what is done; minutes after the work, minutes in which it may begin, minutes it takes.
    Returns: tending of the shop document.
    Raises:  nothing.
    Source:  the shop document, "products".

    >>> tend("wipe", 20, 10, 20)["at_minutes"]
    20
    """
    return {"key": key, "at_minutes": at, "within_minutes": within, "minutes": minutes}


def window(hours: float, *needs: str, to: float | None = None) -> dict[str, Any]:
    """Return a window for the next layer.

    Takes:   hours after which it opens; what has to be done before; hours after which it closes, if it does.
    Returns: a recoat window of the shop document.
    Raises:  nothing.
    Source:  the shop document, "products".

    >>> window(72, "sand")
    {'from_hours': 72, 'needs': ['sand']}
    """
    span: dict[str, Any] = {"from_hours": hours}
    if to is not None:
        span["to_hours"] = to
    return {**span, "needs": list(needs)} if needs else span


def practice(of: str, low: float | None, high: float | None, unit: str, case: str = "") -> Figure:
    """Return a figure of the trade that no source was found for.

    Takes:   what it is of, its range, its unit, the special case if it holds for one only.
    Returns: the Figure, which says "common practice, no source".
    Raises:  nothing.
    Source:  common practice, no source.

    >>> practice("open time", 1, 2, "min").source.how
    'common practice'
    """
    return Figure(of, low, high, unit, PRACTICE, case)


WARM_SHOP = practice(RATED_AT, 70, 70, "°F", "a warm shop")
PLANING = Figure(READY_TO_PLANE, 7, 7, "day", SUNKEN_JOINTS, "water leaves the wood; no rule for the cold is known")
