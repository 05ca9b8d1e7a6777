"""What the figures of a glue or finish mean in the air of a room, were the work on it done at this moment.

A time is told only where it holds: under the lowest temperature, in air too damp for a coat, and where it is colder
than the label means and nobody knows how much longer that takes, there is none.

Not modelled: how long the work itself takes.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from webapp.planning.cold import Cold
from webapp.planning.laid import Chill
from webapp.planning.network import Product
from webapp.planning.reading import product as read
from webapp.trade.air.climate import Air, History
from webapp.trade.air.rules import Damp, Dew, damp
from webapp.trade.air.warmth import is_cold
from webapp.trade.products.figures import OUT_OF_CLAMPS
from webapp.trade.products.joints import EDGE, Clamping
from webapp.trade.waits.assembly import Assembly, assembly
from webapp.trade.waits.cure import Paced, Rule, Stage, Window, opening, paced, paced_ends

Figures = Mapping[str, Any]


class Sure(StrEnum):
    """How far a time can be trusted."""

    KNOWN = "it holds"
    TEST = "at least so long, and longer in the cold to come: test it"
    LONGER = "longer than the label says, nobody knows how much: test it"
    NEVER = "not in this air"


@dataclass(frozen=True, slots=True)
class Told:
    """A point of a wait: its hours on the label, when it is reached (None: nobody can say), and how sure that is."""

    name: str
    hours: float
    end: int | None
    sure: Sure


@dataclass(frozen=True, slots=True)
class Open:
    """A window for the next layer: when it opens and shuts (None: it stays open), and what it asks for first."""

    opens: Told
    shuts: Told | None
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Joint:
    """How long a kind of joint stays in clamps: the general figure, and when it comes out; None: wrong for it."""

    clamping: Clamping
    told: Told | None


@dataclass(frozen=True, slots=True)
class BegunNow:
    """All that the figures mean at one moment in one room.

    `humid` is the humidity where it is too high; `is_cold`: colder than the label means, and the product has no rule.
    """

    now: int
    air: Air
    chill: Chill | None
    humid: float | None
    dew: Dew | None
    is_cold: bool
    stages: tuple[Told, ...]
    windows: tuple[Open, ...]
    assembly: Assembly | None

    @property
    def is_barred(self) -> bool:
        """Whether it is too cold or too damp to begin at all."""
        return self.chill is not None or self.humid is not None or self.dew is not None


def begun_now(figures: Figures, history: History, now: int, closed: float | None = None) -> BegunNow:
    """Return what the figures of a product mean, were the work done now.

    Takes:   the figures of a product of the shop document, °C; the air of the room; the instant; the closed time in
             minutes, where one is known.
    Returns: what the air forbids; each stage and window with when it is reached and how sure that is; the open time.
    Raises:  nothing.
    Source:  the shop document, rules 3, 4 and 7; where nothing is known in the cold: `trade/air/warmth.py`.

    >>> pva = {"rated_at": 21, "doubles_per": 8, "lowest": 10, "stages": [{"name": "out of clamps", "hours": 1}]}
    >>> begun_now(pva, History.constant(13.0), 0).stages[0].end, begun_now(pva, History.constant(7.0), 0).stages[0].end
    (120, None)
    """
    product, air = read({"name": "", **figures}), history.at(now)
    chill, against = _chill(product, history, now), damp(air, product.humidity_max, product.dew_gap)
    wait = _Wait(history, now, is_barred=_is_barred(chill, against))
    stages = tuple(wait.told(one) for one in paced(product.stages, pace=product.pace))
    windows = tuple(_open(wait, window, product) for window in product.recoat)
    return BegunNow(
        now=now,
        air=air,
        chill=chill,
        humid=against.humid,
        dew=against.dew,
        is_cold=is_slow(product, air.temperature),
        stages=stages,
        windows=windows,
        assembly=_assembly(product, air, closed),
    )


def is_slow(product: Product, celsius: float | None) -> bool:
    """Return whether it is colder than a label means that gives times, and no rule for the cold.

    Takes:   the product; °C, None where it is not known.
    Returns: True under WARM_ENOUGH, where the product has something to wait for and no rule.
    Raises:  nothing.
    Source:  `trade/air/warmth.py`.

    >>> is_slow(Product("oil", recoat=(Window(24),)), 4.4), is_slow(Product("dye"), 4.4)
    (True, False)
    """
    return bool(product.stages or product.recoat) and not product.pace.has_rule and is_cold(celsius)


def joints_now(clampings: Iterable[Clamping], figures: Figures, history: History, now: int) -> tuple[Joint, ...]:
    """Return how long each kind of joint stays in clamps, were the clamps tight now.

    Takes:   a Clamping for each kind of joint, as `joints.clampings`; the figures of the product, °C; the air; the
             instant.
    Returns: a Joint for each, by the pace of the product; an edge joint by the product's own hours. No time where it is
             too cold or too damp to begin, as `begun_now`.
    Raises:  nothing.
    Source:  `trade/products/joints.py`.

    >>> mitre = [Clamping("mitre", 2, ())]
    >>> found = joints_now(mitre, {"rated_at": 21, "doubles_per": 8}, History.constant(13.0), 0)
    >>> [(one.clamping.joint, one.told.end) for one in found if one.told]
    [('mitre', 240)]
    """
    product = read({"name": "", **figures})
    own = next((stage.hours for stage in product.stages if stage.name == OUT_OF_CLAMPS), None)
    against = damp(history.at(now), product.humidity_max, product.dew_gap)
    wait = _Wait(history, now, is_barred=_is_barred(_chill(product, history, now), against))
    found = []
    for one in clampings:
        hours = own if one.joint == EDGE and own is not None else one.hours
        stage = None if hours is None else paced([Stage(one.joint, hours)], pace=product.pace)[0]
        found.append(Joint(one, None if stage is None else wait.told(stage)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Wait:
    """A wait that begins now in the air of a room."""

    history: History
    now: int
    is_barred: bool

    def told(self, stage: Paced) -> Told:
        """A point of the wait."""
        hours, is_unknown = stage.minutes / 60, stage.rule is Rule.UNKNOWN
        if self.is_barred:
            return Told(stage.name, hours, None, Sure.NEVER)
        end = paced_ends(self.now, [stage], history=self.history)[stage.name]
        if end is None:
            return Told(stage.name, hours, None, Sure.NEVER)
        if is_unknown and is_cold(self.history.at(self.now).temperature):
            return Told(stage.name, hours, None, Sure.LONGER)
        is_doubted = is_unknown and is_cold(self.history.coldest(self.now, end))
        return Told(stage.name, hours, end, Sure.TEST if is_doubted else Sure.KNOWN)


def _open(wait: _Wait, window: Window, product: Product) -> Open:
    opens = wait.told(opening(window, product.pace))
    if window.to_hours is None:
        return Open(opens, None, window.needs)
    shuts = opening(Window(window.to_hours), product.pace)
    return Open(opens, wait.told(shuts), window.needs)


def _is_barred(chill: Chill | None, against: Damp) -> bool:
    return chill is not None or against != Damp(None, None)


def _chill(product: Product, history: History, now: int) -> Chill | None:
    cold = Cold.of(product, history)
    return None if cold is None else cold.ahead(now, now)


def _assembly(product: Product, air: Air, closed: float | None) -> Assembly | None:
    if product.open_minutes is None:
        return None
    return assembly(product.open_minutes, product.pace, air.temperature, closed)
