"""The one clock for waits: when a stage is reached, when to tend, when the next layer may go on.

A wait runs through nights, closings and clock changes and needs nobody, so everything here counts in whole minutes
since 1970 in UTC and knows no calendar. The planner asks it for waits to come, the bench page for waits that run;
nothing else computes an end.

What a minute counts for is the pace of the stage at the temperature of that minute (`pace.py`), summed over the air of
the room (`clock.py`, `climate.py`). Without a history every hour counts one hour.

Ends are rounded up to the whole minute, after an excess of less than a second is dropped: 63.6 minutes are 64,
120.000001 are 120.

Not modelled: what damp air does to a wait. Nobody has put that in figures; a label's limits are in `air_rules.py`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from webapp.trade.air.climate import History
from webapp.trade.air.pace import AS_LABELLED, Pace
from webapp.trade.waits.clock import LONGEST_WAIT, clock, whole_minutes


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

    def holds(self, start: int, end: int) -> bool:
        """Return whether work lies in it.

        Takes: when the work begins and ends. Returns: whether. Raises: nothing. Source: the shop document, rule 7.

        >>> Recoat(60, 120, ()).holds(60, 120), Recoat(60, None, ()).holds(0, 70)
        (True, False)
        """
        return self.begin <= start and (self.end is None or end <= self.end)


class Rule(StrEnum):
    """What is known of a stage in the cold."""

    DOUBLES = "takes twice as long for so many degrees"
    AS_SET = "hours set for this piece of work, warm or cold"
    UNKNOWN = "no known rule: test it"


@dataclass(frozen=True, slots=True)
class Paced:
    """A stage that an operation has: its minutes at the label's temperature, how it runs, and what is known of that."""

    name: str
    minutes: float
    pace: Pace
    rule: Rule


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


def paced(product: Iterable[Stage], own: Iterable[Stage] = (), pace: Pace = AS_LABELLED) -> tuple[Paced, ...]:
    """Return the stages an operation has, each with the pace at which it runs.

    Takes:   the stages of the product; those of the operation; the pace of the product.
    Returns: stages in the order of `joined`. Hours that the operation sets by itself do not follow the cold, nor do
             they stop under the product's `counts_above`.
    Raises:  nothing.
    Source:  the shop document, rule 3 and an operation's stages.

    >>> [one.rule.name for one in paced([Stage("set", 1), Stage("machine", 168, own_rule=True)], pace=Pace(21.0, 8.0))]
    ['DOUBLES', 'UNKNOWN']
    """
    product = tuple(product)
    known = {stage.name for stage in product}
    return tuple(_paced(stage, pace, stage.name in known) for stage in joined(product, own))


def _paced(stage: Stage, pace: Pace, is_products: bool) -> Paced:
    if stage.own_rule:
        pace = replace(pace, doubles_per=stage.doubles_per)
    if not is_products:
        pace = replace(pace, counts_above=None)
    rule = Rule.DOUBLES if pace.has_rule else Rule.UNKNOWN if is_products else Rule.AS_SET
    return Paced(stage.name, stage.hours * 60, pace, rule)


def stage_ends(
    began: int,
    stages: Iterable[Stage],
    own: Iterable[Stage] = (),
    reached: Mapping[str, int] | None = None,
    now: int | None = None,
    pace: Pace = AS_LABELLED,
    history: History | None = None,
) -> dict[str, int | None]:
    """Return when each stage of a wait is reached.

    Takes:   when the wait began: the end of the hands-on work, or when the clamps were really tight; the stages of the
             product; those of the operation; what was tested, by stage: a time by `now` replaces the computed one, a
             later one means "not before then"; the pace of the product; the air of the room, without which every hour
             counts; instants in minutes since 1970 UTC.
    Returns: the instant of each stage, in the order of `joined`; None where it is not reached within 365 days.
    Raises:  nothing.
    Source:  the shop document, rules 2 and 3.

    >>> stage_ends(600, [Stage("clamps off", 1), Stage("machine", 168)], reached={"clamps off": 640}, now=700)
    {'clamps off': 640, 'machine': 10680}
    >>> stage_ends(600, [Stage("clamps off", 1)], pace=Pace(21.0, 8.0), history=History.constant(13.0))
    {'clamps off': 720}
    """
    return paced_ends(began, paced(stages, own, pace), reached, now, history)


def paced_ends(
    began: int,
    stages: Iterable[Paced],
    reached: Mapping[str, int] | None = None,
    now: int | None = None,
    history: History | None = None,
) -> dict[str, int | None]:
    """Return the same as `stage_ends` for stages whose pace is known already: for who asks again and again.

    Takes:   when the wait began; the stages; what was tested; now; the air of the room.
    Returns: the instant of each stage, in the order given.
    Raises:  nothing.
    Source:  the shop document, rules 2 and 3.

    >>> paced_ends(600, paced([Stage("clamps off", 1)]))
    {'clamps off': 660}
    """
    told = reached or {}
    return {one.name: _tested(_end(began, one.minutes, one.pace, history), told.get(one.name), now) for one in stages}


def _end(began: int, minutes: float, pace: Pace, history: History | None) -> int | None:
    if history is not None:
        return clock(history, pace).end(began, minutes)
    whole = whole_minutes(minutes)
    return began + whole if whole <= LONGEST_WAIT else None


def _tested(computed: int | None, told: int | None, now: int | None) -> int | None:
    """The end of a stage with what a test says of it."""
    if told is None:
        return computed
    if now is None or told <= now:
        return told
    return None if computed is None else max(computed, told)


def began_by(since: int, by: int, wait: Paced, history: History) -> int | None:
    """Return when a wait has to begin at the latest for a stage of it to be reached by an instant.

    Takes:   the earliest beginning that is of interest; the instant; the stage; the air of the room.
    Returns: an instant, not before `since`; None where even that is too late.
    Raises:  nothing.
    Source:  arithmetic on rule 3.

    >>> began_by(0, 600, paced([Stage("clamps off", 1)], pace=Pace(21.0, 8.0))[0], History.constant(13.0))
    480
    """
    return clock(history, wait.pace).latest(since, by, wait.minutes)


def opening(window: Window, pace: Pace) -> Paced:
    """Return the opening of a recoat window as a stage of the wait of the layer below.

    Takes:   the window; the pace of the layer below.
    Returns: a stage that is reached when the window opens.
    Raises:  nothing.
    Source:  the shop document, rule 7.

    >>> opening(Window(2, 3), Pace()).minutes
    120
    """
    return Paced("next layer", window.from_hours * 60, pace, Rule.DOUBLES if pace.has_rule else Rule.UNKNOWN)


def wait_minutes(hours: float) -> int:
    """Return hours that pass warm or cold as whole minutes, rounded up.

    Takes:   hours, not negative.
    Returns: minutes; less than a second over a whole one is dropped.
    Raises:  nothing.
    Source:  the shop document, rounding.

    >>> wait_minutes(1.06), wait_minutes(24)
    (64, 1440)
    """
    return whole_minutes(hours * 60)


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


def recoat_windows(
    began: int, windows: Iterable[Window], pace: Pace = AS_LABELLED, history: History | None = None
) -> tuple[Recoat, ...]:
    """Return when the next layer may go on.

    Takes:   the end of the work on the layer below, in minutes since 1970 UTC; its windows in order; the pace of the
             layer below; the air of its room, without which every hour counts.
    Returns: the windows as instants, in order, stretched at both ends; work on the next layer lies wholly inside one of
             them. One that does not open within 365 days is not among them, one that does not close stays open.
    Raises:  nothing.
    Source:  the shop document, rules 3 and 7.

    >>> recoat_windows(600, [Window(0, 2), Window(72, None, ("sand",))])
    (Recoat(begin=600, end=720, needs=()), Recoat(begin=4920, end=None, needs=('sand',)))
    """
    found: list[Recoat] = []
    for window in windows:
        begin = _end(began, window.from_hours * 60, pace, history)
        if begin is not None:
            end = None if window.to_hours is None else _end(began, window.to_hours * 60, pace, history)
            found.append(Recoat(begin, end, window.needs))
    return tuple(found)
