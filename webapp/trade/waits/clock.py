"""The age of a wait: its pace summed over the air, both ways.

A minute counts as much as the pace of its temperature says; the sum of what counted is the age, which is how many
minutes it would have been at the label's temperature. How old after a span, and when it is so old: the sums up to the
begin of each stretch of air are kept, so an answer is two searches and one division, however long the wait.

Source: summing a rate over the temperature history is the equivalent-age form of ASTM C1074.
"""

from bisect import bisect_left, bisect_right
from math import floor
from typing import Protocol

from webapp.trade.air.climate import History
from webapp.trade.air.readings import NEVER

LONGEST_WAIT = 365 * 24 * 60  # a stage not reached by then has no end
SECONDS = 60
_FUZZ = 1e-6  # of a second: what binary fractions may be off by
_NOISE = 1e-9  # of an age: less is not lacking


class Rate(Protocol):
    """How many minutes one minute counts for, by temperature: a pace. Tests sum rates that are published."""

    def __hash__(self) -> int:
        """Sums are kept by rate."""

    @property
    def follows_air(self) -> bool:
        """Whether the temperature matters at all."""

    def at(self, temperature: float | None) -> float:
        """How many minutes one minute counts for at °C, None where it is not known."""


def whole_minutes(minutes: float) -> int:
    """Return a span in whole minutes, rounded up.

    Takes:   minutes, not negative.
    Returns: minutes; less than a second over a whole minute is dropped.
    Raises:  nothing.
    Source:  the shop document, rounding.

    >>> whole_minutes(63.6), whole_minutes(120.000001)
    (64, 120)
    """
    whole = floor(minutes)
    return whole if (minutes - whole) * SECONDS < 1 - _FUZZ else whole + 1


def clock(history: History, pace: Rate) -> "Clock":
    """Return the clock of a pace over a history, always the same one, so that nothing is summed twice.

    Takes: both. Returns: the clock. Raises: nothing. Source: none needed.

    >>> from webapp.trade.air.pace import Pace
    >>> air = History.constant(20.0)
    >>> clock(air, Pace(21.0, 8.0)) is clock(air, Pace(21.0, 8.0))
    True
    """
    return history.kept(pace, lambda: Clock(history, pace))


class Clock:
    """A wait's pace over the air of a room.

    Takes:   the history; the pace.
    Returns: a clock that keeps what it has summed.
    Raises:  nothing.
    Source:  ASTM C1074, equivalent age.

    >>> from webapp.trade.air.climate import Profile
    >>> from webapp.trade.air.pace import Pace
    >>> from webapp.trade.air.readings import Reading
    >>> history = History(Profile(21.0, 21.0), [Reading(0, 13.0), Reading(60, 21.0)])
    >>> clock = Clock(history, Pace(rated_at=21.0, doubles_per=8.0))
    >>> clock.age(0, 90), clock.end(0, 60), clock.latest(0, 90, 60)
    (60.0, 90, 0)
    """

    def __init__(self, history: History, pace: Rate) -> None:
        self._history, self._pace = history, pace
        self._is_plain = not pace.follows_air and not history.pauses
        self._version = history.version
        self._rates: list[float] = []
        self._ages: list[float] = []  # at the begin of each stretch, counted from that of the second

    def age(self, begin: int, end: int) -> float:
        """Return how many minutes of a wait a span comes to.

        Takes:   the span as instants.
        Returns: minutes at the label's temperature.
        Raises:  nothing.
        Source:  ASTM C1074, equivalent age.

        >>> from webapp.trade.air.pace import Pace
        >>> Clock(History.constant(13.0), Pace(21.0, 8.0)).age(0, 60)
        30.0
        """
        first = self._find(begin)
        last = self._find(end)
        begins, rates, ages = self._history.begins, self._rates, self._ages
        if first == last:
            return (end - begin) * rates[first]
        between = ages[last] - ages[first + 1]
        return (begins[first + 1] - begin) * rates[first] + between + (end - begins[last]) * rates[last]

    def end(self, begin: int, minutes: float) -> int | None:
        """Return when a wait is so old.

        Takes:   when it began; minutes at the label's temperature.
        Returns: the instant, rounded up to the minute; None where it is not reached within 365 days.
        Raises:  nothing.
        Source:  the shop document, rule 3.

        >>> from webapp.trade.air.pace import Pace
        >>> Clock(History.constant(13.0), Pace(21.0, 8.0)).end(0, 31.8)
        64
        """
        last = begin + LONGEST_WAIT
        if self._is_plain:
            end = begin + whole_minutes(minutes)
            return end if end <= last else None
        index, enough = self._find(begin), minutes - _NOISE * (1 + minutes)
        until = self._history.until(index)
        found = (until - begin) * self._rates[index]
        if found < enough:
            if until == NEVER:
                return None
            self._sum(index + 1)
            before = self._ages[index + 1] - found
            index = self._stretch(before + enough, index + 1, last)
            begin, minutes = self._history.begins[index], minutes + before - self._ages[index]
        end = begin + self._rest(minutes, index, enough)
        return end if end <= last else None

    def latest(self, since: int, by: int, minutes: float) -> int | None:
        """Return when a wait has to begin at the latest to be so old by an instant.

        Takes:   the earliest beginning that is of interest; the instant; minutes at the label's temperature.
        Returns: the last whole minute from the earliest on with which `end` is not later; None where there is none.
        Raises:  nothing.
        Source:  arithmetic.

        >>> from webapp.trade.air.pace import Pace
        >>> Clock(History.constant(13.0), Pace(21.0, 8.0)).latest(0, 600, 60)
        480
        """
        if self._is_plain:
            begin = by - whole_minutes(minutes)
            return begin if begin >= since and by <= begin + LONGEST_WAIT else None
        begins = range(since, by + 1)
        found = bisect_right(begins, by, key=lambda begin: NEVER if (end := self.end(begin, minutes)) is None else end)
        return begins[found - 1] if found else None

    def _find(self, instant: int) -> int:
        """The stretch that holds an instant, with all sums up to it."""
        index = self._history.find(instant)
        if self._version != self._history.version:
            self._version, self._rates, self._ages = self._history.version, [], []
        self._sum(index)
        return index

    def _stretch(self, age: float, index: int, last: int) -> int:
        """The first stretch from one on in which the sum comes to an age, or else one that begins after an instant."""
        begins, ages = self._history.begins, self._ages
        while ages[-1] < age and begins[len(ages) - 1] <= last and self._history.until(len(ages) - 1) < NEVER:
            self._sum(len(ages))
        return bisect_left(ages, age, index) - 1

    def _rest(self, minutes: float, index: int, enough: float) -> int:
        """How long an age takes in a stretch in which it is reached."""
        rate = self._rates[index]
        if enough <= 0:
            return 0
        return whole_minutes(min(minutes / rate, NEVER)) if rate else NEVER

    def _sum(self, index: int) -> None:
        """Sum up to the begin of a stretch that the history has laid."""
        while len(self._ages) <= index:
            place = len(self._ages)
            if place > 1:
                begins = self._history.begins
                self._ages.append(self._ages[-1] + (begins[place] - begins[place - 1]) * self._rates[-1])
            else:
                self._ages.append(0.0)
            temperature, _, counts = self._history.airs[place]
            self._rates.append(self._pace.at(temperature) if counts else 0.0)
