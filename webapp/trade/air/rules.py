"""When the air is too damp for a coat: the gap between the surface and the dew point, and the highest humidity.

A label's own limits beat every rule here. The two rules for coatings in general were written for steel; 5 °F is
2.78 °C, so they are not the same rule.

Not modelled: how much a solvent chills the film as it leaves; the wide gap for lacquer stands for it.
"""

from dataclasses import dataclass

from webapp.trade.air.climate import Air
from webapp.trade.air.degrees import degrees, difference
from webapp.trade.air.dew import AirError, dew_point
from webapp.trade.air.pace import LOOSE
from webapp.trade.sources import MEMORY, WEAK

SHOWN = 6  # decimals that count: what binary fractions are off by does not
_FORUM = "rule of thumb of a trade forum, https://www.woodweb.com/knowledge_base/Avoiding_Blush.html"


@dataclass(frozen=True, slots=True)
class GapRule:
    """How far a surface must be above the dew point: at least `celsius` (a difference), or more than that."""

    name: str
    celsius: float
    more_than: bool
    source: str
    how: str


@dataclass(frozen=True, slots=True)
class HumidityRule:
    """The highest humidity in %, itself still allowed, at which a coat may go on."""

    name: str
    highest: float
    source: str
    how: str


SURFACE_3_C = GapRule(
    "surface 3 °C above the dew point",
    3.0,
    more_than=False,
    source="ISO 8502-4 and ISO 12944-7 practice, written for steel; read in a supplier's page",
    how=WEAK,
)
SURFACE_5_F = GapRule("surface 5 °F above the dew point", 25 / 9, more_than=False, source="ASTM D3276", how=MEMORY)
LACQUER_20_F = GapRule(
    "lacquer and shellac: dew point more than 20 °F under the air",
    100 / 9,
    more_than=True,
    source=_FORUM,
    how=WEAK,
)
LACQUER_65 = HumidityRule(
    "lacquer and shellac: no spraying over 65 %",
    65.0,
    source=_FORUM,
    how=WEAK,
)
COATING_85 = HumidityRule(
    "no coating over 85 %",
    85.0,
    source="ISO 12944-7 practice, written for steel; read in a supplier's page",
    how=WEAK,
)
GAP_RULES = (SURFACE_3_C, SURFACE_5_F, LACQUER_20_F)
HUMIDITY_RULES = (LACQUER_65, COATING_85)


@dataclass(frozen=True, slots=True)
class Gap:
    """A surface against the dew point, all in °C: `gap` is how far above it is, under 0 where it is wet already."""

    surface: float
    dew_point: float
    gap: float
    rule: GapRule
    holds: bool

    def says(self, unit: str) -> str:
        """Return the sentence for a maker who reads C or F."""
        dew, surface = degrees(self.dew_point, unit), degrees(self.surface, unit)
        above = difference(self.gap, unit, 2)
        found = f"{above} under {surface}" if self.gap > 0 else f"so water comes out at {surface}"
        wanted = f"{'more than' if self.rule.more_than else 'at least'} {difference(self.rule.celsius, unit, 2)}"
        advice = "" if self.holds else " Warm it or dry the air."
        return f"The dew point is {dew}, {found}; {wanted} is wanted.{advice}"


@dataclass(frozen=True, slots=True)
class HumidityCheck:
    """The humidity in % against a limit; `over` is how much it is too high, 0 where it is not."""

    humidity: float
    rule: HumidityRule
    over: float
    holds: bool

    def says(self) -> str:
        """Return the sentence for a maker."""
        wanted = f"at most {self.rule.highest:g} % is wanted"
        if self.holds:
            return f"Humidity {self.humidity:g} %; {wanted}."
        return f"Humidity {self.humidity:g} %; {wanted}. Warm the room or dry the air, and try a scrap first."


def gap(surface: float, celsius: float, humidity: float, rule: GapRule) -> Gap:
    """Return whether a surface is far enough above the dew point of the air around it.

    Takes:   the surface in °C (the air's own temperature for a lacquer rule, or where nobody measured the wood); the
             air in °C and its humidity in %; the rule.
    Returns: a Gap.
    Raises:  AirError outside the ranges of `dew_point`, or for a surface that is no temperature.
    Source:  the rule's own; dew point by the Magnus form, WMO-No. 8.

    >>> damp = gap(9.5, 10, 80, SURFACE_3_C)
    >>> damp.holds, round(damp.gap, 2), damp.says("C")
    (False, 2.79, 'The dew point is 6.7 °C, 2.79 °C under 9.5 °C; at least 3 °C is wanted. Warm it or dry the air.')
    >>> gap(9.5, 10, 80, SURFACE_5_F).holds
    True
    """
    if not -100 <= surface <= 200:
        raise AirError("Write the temperature of the surface, such as 20.")
    dew = dew_point(celsius, humidity)
    above = round(surface - dew, SHOWN)
    wanted = round(rule.celsius, SHOWN)
    return Gap(surface, dew, above, rule, above > wanted if rule.more_than else above >= wanted)


def humidity_limit(humidity: float, rule: HumidityRule) -> HumidityCheck:
    """Return whether the air is dry enough for a coat.

    Takes:   humidity in %, from 0 to 100; the rule, made from a label's limit where there is one.
    Returns: a HumidityCheck; the limit itself still holds.
    Raises:  AirError for a humidity outside 0 to 100 %.
    Source:  the rule's own.

    >>> humidity_limit(65, LACQUER_65).holds, humidity_limit(70, LACQUER_65).over
    (True, 5.0)
    """
    if not 0 <= humidity <= 100:
        raise AirError("Humidity goes from 0 to 100 %. Read the hygrometer again.")
    over = max(0.0, round(humidity - rule.highest, SHOWN))
    return HumidityCheck(humidity, rule, over, over == 0)


@dataclass(frozen=True, slots=True)
class Dew:
    """Too near the dew point: that point, and how far the air is above it, both °C."""

    point: float
    gap: float


@dataclass(frozen=True, slots=True)
class Damp:
    """What of the air is against a label: the humidity where it is too high, the dew point where it is too near."""

    humid: float | None
    dew: Dew | None


def damp(air: Air, humidity_max: float | None, dew_gap: float | None) -> Damp:
    """Return what of the air is against the limits of a label.

    Takes:   a stretch of air; the highest humidity in %; the least gap in °C between the air and its dew point. None:
             the label sets no such limit.
    Returns: a Damp; the limits themselves are still allowed, and nothing is said of what is not known.
    Raises:  nothing.
    Source:  the shop document, `humidity_max` and `dew_gap`; dew point by the Magnus form, WMO-No. 8.

    >>> damp(Air(0, 60, 20.0, 70.0, counts=True), 65.0, None)
    Damp(humid=70.0, dew=None)
    """
    too_high = humidity_max is not None and air.humidity is not None and air.humidity > humidity_max + LOOSE
    return Damp(air.humidity if too_high else None, None if dew_gap is None else _too_near(air, dew_gap))


def _too_near(air: Air, least: float) -> Dew | None:
    if air.temperature is None or air.humidity is None:
        return None
    try:
        point = dew_point(air.temperature, air.humidity)
    except AirError:
        return None
    apart = air.temperature - point
    return Dew(point, apart) if apart < least - LOOSE else None
