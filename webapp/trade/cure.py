"""The one clock for waits: when a stage is reached, when to tend, when the next layer may go on.

A wait is elapsed time. It runs through nights, closings and clock changes and needs nobody, so everything here counts
in whole minutes since 1970 in UTC and knows no calendar. The planner asks it for waits to come, the bench page for
waits that run; nothing else computes an end.

Ends are rounded up to the whole minute, after an excess of less than a second is dropped: 63.6 minutes are 64,
120.000001 are 120.

Not modelled yet: temperature. Every hour counts one hour. A history of the air will come in beside the figures, and
what a stage says of its own rule (`doubles_per`) is kept for it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import floor

LONGEST_WAIT = 365 * 24 * 60  # a stage not reached by then has no end
SECONDS = 60
_FUZZ = 1e-6  # of a second: what binary fractions of an hour may be off


@dataclass(frozen=True, slots=True)
class Stage:
    """A named point of a wait: `hours` after the hands-on work, at the temperature the figures are for.

    With `own_rule` the stage does not follow its product's doubling but `doubles_per` (None: none).
    """

    name: str
    hours: float
    own_rule: bool = False
    doubles_per: float | None = None


@dataclass(frozen=True, slots=True)
class Tend:
    """Short work inside a wait: begun `at` to `at + within` minutes after the hands-on work, and how long it takes."""

    key: str
    at: int
    within: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Window:
    """When the next layer may go on, in hours after the layer below; open-ended without `to_hours`."""

    from_hours: float
    to_hours: float | None = None
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tending:
    """Tending of a wait that began: it may be begun from `at` until `by`."""

    key: str
    at: int
    by: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Recoat:
    """A recoat window of a wait that began; without `end` it stays open."""

    begin: int
    end: int | None
    needs: tuple[str, ...]


def whole_minutes(hours: float) -> int:
    """Return a wait in whole minutes, rounded up.

    Takes:   hours, not negative.
    Returns: minutes; less than a second over a whole minute is dropped.
    Raises:  nothing.
    Source:  the shop document, rounding.

    >>> whole_minutes(1.06), whole_minutes(2.00000002)
    (64, 120)
    """
    minutes = hours * 60
    whole = floor(minutes)
    return whole if (minutes - whole) * SECONDS < 1 - _FUZZ else whole + 1


def joined(product: Iterable[Stage], own: Iterable[Stage]) -> tuple[Stage, ...]:
    """Return the stages an operation has: its product's, with its own hours where it names one of them, and its own.

    Takes:   the stages of the product's label; those the operation gives itself.
    Returns: the product's in their order, then the operation's. An own stage of the same name keeps the product's rule
             unless it brings its own; all others are fixed elapsed hours.
    Raises:  nothing.
    Source:  the shop document, an operation's stages.

    >>> [s.hours for s in joined([Stage("clamps off", 1), Stage("machine", 168)], [Stage("clamps off", 12)])]
    [12, 168]
    """
    replacing = {stage.name: stage for stage in own}
    stages = [_replaced(stage, replacing.pop(stage.name, None)) for stage in product]
    return (*stages, *(Stage(s.name, s.hours, own_rule=True, doubles_per=s.doubles_per) for s in replacing.values()))


def _replaced(stage: Stage, own: Stage | None) -> Stage:
    if own is None:
        return stage
    return own if own.own_rule else Stage(stage.name, own.hours, stage.own_rule, stage.doubles_per)


def stage_ends(
    began: int,
    stages: Iterable[Stage],
    own: Iterable[Stage] = (),
    reached: Mapping[str, int] | None = None,
    now: int | None = None,
) -> dict[str, int | None]:
    """Return when each stage of a wait is reached.

    Takes:   when the wait began: the end of the hands-on work, or when the clamps were really tight; the stages of the
             product; those of the operation; what was tested, by stage: a time by `now` replaces the computed one, a
             later one means "not before then"; instants in minutes since 1970 UTC.
    Returns: the instant of each stage, in the order of `joined`; None where it is not reached within 365 days.
    Raises:  nothing.
    Source:  the shop document, rules 2 and 3 without temperature.

    >>> stage_ends(600, [Stage("clamps off", 1), Stage("machine", 168)], reached={"clamps off": 640}, now=700)
    {'clamps off': 640, 'machine': 10680}
    """
    told = reached or {}
    return {stage.name: _end(began, stage, told.get(stage.name), now) for stage in joined(stages, own)}


def _end(began: int, stage: Stage, told: int | None, now: int | None) -> int | None:
    minutes = whole_minutes(stage.hours)
    computed = began + minutes if minutes <= LONGEST_WAIT else None
    if told is None or (now is not None and told > now and computed is not None and computed > told):
        return computed
    return told


def tendings(ended: int, tend: Iterable[Tend]) -> tuple[Tending, ...]:
    """Return when a wait is to be tended.

    Takes:   the end of the hands-on work, in minutes since 1970 UTC; the product's tending.
    Returns: the span in which each may be begun, in order of time. It does not stretch with the cold.
    Raises:  nothing.
    Source:  the shop document, rule 8.

    >>> tendings(600, [Tend("wipe", at=20, within=10, minutes=15)])
    (Tending(key='wipe', at=620, by=630, minutes=15),)
    """
    laid = [Tending(t.key, ended + t.at, ended + t.at + t.within, t.minutes) for t in tend]
    return tuple(sorted(laid, key=lambda tending: tending.at))


def recoat_windows(began: int, windows: Iterable[Window]) -> tuple[Recoat, ...]:
    """Return when the next layer may go on.

    Takes:   the end of the work on the layer below, in minutes since 1970 UTC; its windows in order.
    Returns: the windows as instants, in order; work on the next layer lies wholly inside one of them.
    Raises:  nothing.
    Source:  the shop document, rules 3 and 7 without temperature.

    >>> recoat_windows(600, [Window(0, 2), Window(72, None, ("sand",))])
    (Recoat(begin=600, end=720, needs=()), Recoat(begin=4920, end=None, needs=('sand',)))
    """
    return tuple(
        Recoat(
            began + whole_minutes(window.from_hours),
            None if window.to_hours is None else began + whole_minutes(window.to_hours),
            window.needs,
        )
        for window in windows
    )
