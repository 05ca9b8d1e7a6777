"""The air of a room over time: a usual day and night, and above them what was read.

A reading holds until the next one, twelve hours at most; temperature and humidity each hold by themselves, and so does
whether the hours count. Outside of readings the profile holds. So the air is constant in stretches, and whoever sums
over it (`clock.py`) goes from stretch to stretch and never by minutes.

Instants are minutes since 1970 UTC. A profile is local time, so each local day is laid by itself, and only as far as
somebody looks. A local time that occurs twice or not at all is read with fold 0.

Not modelled: how fast a room warms up, and the wood in it, which follows the air by hours.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import cached_property
from typing import Any, TypeVar

from webapp.trade.air.pace import LOOSE
from webapp.trade.air.readings import NEVER, Held, Reading, Track

T = TypeVar("T")


_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MINUTE = timedelta(minutes=1)
_DAY = 24 * 60
_SPARE = 30  # days laid before the first that is asked for, so that a look a little further back costs nothing


@dataclass(frozen=True, slots=True)
class Profile:
    """The usual air: °C by day and by night, from when to when it is day in minutes after midnight, and % RH.

    None: nothing is known. Day may run over midnight (from 22:00 to 06:00); from an hour to the same hour it is never
    day.
    """

    day: float | None = None
    night: float | None = None
    day_from: int = 7 * 60
    day_to: int = 22 * 60
    humidity: float | None = None


@dataclass(frozen=True, slots=True)
class Air:
    """The air of one stretch of time: °C and % RH, None where nothing is known, and whether its hours count."""

    begin: int
    end: int
    temperature: float | None
    humidity: float | None
    counts: bool


class History:
    """The air of a room.

    Takes:   its profile; the readings that are there, in any order; the zone of the profile's times; the room, whose
             readings and those without a room count (None: those without a room only).
    Returns: a history that is laid as it is asked for. Of two readings of one instant the later in the list holds.
    Raises:  nothing.
    Source:  the shop document, rule 3, "Readings".

    >>> history = History(Profile(20.0, 15.0), [Reading(600, 12.0)])
    >>> [(air.begin, air.end, air.temperature) for air in history.pieces(0, 1440)]
    [(0, 420, 15.0), (420, 600, 20.0), (600, 1320, 12.0), (1320, 1440, 15.0)]
    """

    def __init__(
        self, profile: Profile, readings: Iterable[Reading] = (), zone: tzinfo = UTC, room: str | None = None
    ) -> None:
        own = sorted((one for one in readings if one.room in (None, room)), key=lambda one: one.at)
        self.profile, self._zone = _steadied(profile), zone
        self.temperatures = Track((one.at, one.temperature) for one in own)
        self.humidities = Track((one.at, one.humidity) for one in own)
        self._counts = Track((one.at, one.counts) for one in own)
        tracks = (self.temperatures, self.humidities, self._counts)
        self._cuts = sorted({at for track in tracks for at in (*track.begins, *track.ends)})
        self.version = 0  # rises when it is laid anew from further back
        self._next = 0  # the first day not laid, as its number
        self._frontier = NEVER  # as far as it is laid
        self._kept: dict[Hashable, Any] = {}
        self._today = 0, 0  # when it is day on the date that is being laid
        self.begins: list[int] = []  # the stretches laid so far: from when each holds, and what
        self.airs: list[tuple[float | None, float | None, bool]] = []
        if self.profile.day == self.profile.night:
            self._lay(-NEVER, [-NEVER, *self._cuts])

    @classmethod
    def constant(cls, temperature: float | None, humidity: float | None = None) -> "History":
        """Return air that stays as it is.

        Takes: °C; % RH. Returns: a history. Raises: nothing. Source: none needed.

        >>> History.constant(12.8).at(7).temperature
        12.8
        """
        return cls(Profile(temperature, temperature, humidity=humidity))

    @property
    def pauses(self) -> bool:
        """Whether there are hours in it that do not count."""
        return 0.0 in self._counts.values

    @cached_property
    def least(self) -> float | None:
        """The lowest temperature that it ever has; None where none is known."""
        known = [self.profile.day, self.profile.night, *self.temperatures.values]
        return min((one for one in known if one is not None), default=None)

    def kept(self, key: Hashable, make: Callable[[], T]) -> T:
        """Return what was made of this history under a key, making it the first time.

        Takes: the key; how to make it. Returns: the same each time. Raises: what making raises. Source: none needed.

        >>> air = History.constant(20.0)
        >>> air.kept("list", list) is air.kept("list", list)
        True
        """
        if key not in self._kept:
            self._kept[key] = make()
        found: T = self._kept[key]
        return found

    def at(self, instant: int) -> Air:
        """Return the air at an instant.

        Takes: the instant. Returns: its stretch. Raises: nothing. Source: the shop document, rule 3.

        >>> History(Profile(20.0, 15.0)).at(0).end
        420
        """
        index = self.find(instant)
        return Air(self.begins[index], self.until(index), *self.airs[index])

    def pieces(self, begin: int, end: int) -> Iterator[Air]:
        """Yield the air of a span, stretch by stretch.

        Takes:   the span as instants.
        Returns: stretches in order, cut at the ends of the span; neighbours differ.
        Raises:  nothing.
        Source:  the shop document, rule 3.

        >>> [air.temperature for air in History.constant(20.0).pieces(0, 60)]
        [20.0]
        """
        index = self.find(begin)
        while begin < end:
            stop = min(self.until(index), end)
            yield Air(begin, stop, *self.airs[index])
            begin, index = stop, index + 1

    def coldest(self, begin: int, end: int) -> float | None:
        """Return the lowest temperature of a span.

        Takes: the span as instants. Returns: °C; None where none is known. Raises: nothing. Source: none needed.

        >>> History(Profile(20.0, 9.0)).coldest(600, 1321)
        9.0
        """
        known = (air.temperature for air in self.pieces(begin, max(end, begin + 1)))
        return min((one for one in known if one is not None), default=None)

    def under(self, limit: float, begin: int, end: int) -> tuple[Air, ...]:
        """Return the stretches of a span that are colder than a limit.

        Takes:   °C; the span as instants.
        Returns: stretches in order, cut at the ends of the span.
        Raises:  nothing.
        Source:  the shop document, rule 4.

        >>> [(air.begin, air.end) for air in History(Profile(20.0, 9.0)).under(10.0, 0, 1440)]
        [(0, 420), (1320, 1440)]
        """
        return tuple(self._under(limit, begin, end))

    def first_under(self, limit: float, begin: int, end: int) -> Held | None:
        """Return the first stretch of a span that is colder than a limit.

        Takes:   °C; the span as instants.
        Returns: its temperature, with when it holds in the span; None where it stays warm.
        Raises:  nothing.
        Source:  the shop document, rule 4.

        >>> History(Profile(20.0, 9.0)).first_under(10.0, 600, 2000)
        Held(begin=1320, end=1860, value=9.0)
        """
        return next((Held(air.begin, air.end, air.temperature or 0.0) for air in self._under(limit, begin, end)), None)

    def read_under(self, limit: float, begin: int, end: int) -> Held | None:
        """Return the first reading that is colder than a limit while it holds in a span.

        Takes:   °C; the span as instants.
        Returns: the reading's temperature, with when it holds in the span; None where there is none.
        Raises:  nothing.
        Source:  the shop document, rule 4.

        >>> History(Profile(20.0, 20.0), [Reading(60, 8.0)]).read_under(10.0, 0, 90)
        Held(begin=60, end=90, value=8.0)
        """
        held = self.temperatures.over(begin, end)
        return next((one for one in held if one.value < limit - LOOSE), None)

    def _under(self, limit: float, begin: int, end: int) -> Iterator[Air]:
        for air in self.pieces(begin, end):
            if air.temperature is not None and air.temperature < limit - LOOSE:
                yield air

    def find(self, instant: int) -> int:
        """The number of the stretch that holds an instant."""
        if not self.begins or instant < self.begins[0]:
            self._begin(instant)
        while instant >= self._frontier:
            self._lay_day()
        return bisect_right(self.begins, instant) - 1

    def until(self, index: int) -> int:
        """When a stretch ends, laying on where that is not known yet; never, where nothing changes any more."""
        while index + 1 >= len(self.begins):
            if self._frontier == NEVER:
                return NEVER
            self._lay_day()
        return self.begins[index + 1]

    def _begin(self, instant: int) -> None:
        """Lay from some days before an instant on; all again where that is earlier than what is laid."""
        day = (_EPOCH + instant * _MINUTE).astimezone(self._zone).date().toordinal()
        self.version += 1
        self._next = max(day - _SPARE, 2)
        self._frontier = _local(date.fromordinal(self._next), 0, self._zone)
        self.begins, self.airs = [], []

    def _lay_day(self) -> None:
        day = date.fromordinal(self._next)
        self._next += 1
        begin, self._frontier = self._frontier, _local(date.fromordinal(self._next), 0, self._zone)
        self._lay(begin, self._changes(day, begin, self._frontier))

    def _changes(self, day: date, begin: int, end: int) -> list[int]:
        """The instants of a local day at which the air may become another."""
        profile = [_local(day, minutes, self._zone) for minutes in (self.profile.day_from, self.profile.day_to)]
        self._today = profile[0], profile[1]
        read = self._cuts[bisect_left(self._cuts, begin) : bisect_left(self._cuts, end)]
        return sorted({begin, *(at for at in profile if begin < at < end), *read})

    def _lay(self, begin: int, changes: Iterable[int]) -> None:
        for at in changes:
            air = (
                self.temperatures.at(at, self._usual(at)),
                self.humidities.at(at, self.profile.humidity),
                bool(self._counts.at(at, 1.0)),
            )
            if not self.airs or air != self.airs[-1]:
                self.begins.append(at)
                self.airs.append(air)

    def _usual(self, at: int) -> float | None:
        """The temperature of the profile at an instant of the day that is being laid."""
        if self.profile.day == self.profile.night:
            return self.profile.day
        begin, end = self._today
        by_day = begin <= at < end if begin <= end else at >= begin or at < end
        return self.profile.day if by_day else self.profile.night


def _steadied(profile: Profile) -> Profile:
    """A profile that is always day or always night as one without a change."""
    if profile.day_from == profile.day_to:
        return replace(profile, day=profile.night)
    return replace(profile, night=profile.day) if profile.day_to - profile.day_from == _DAY else profile


def _local(day: date, minutes: int, zone: tzinfo) -> int:
    days, rest = divmod(minutes, _DAY)
    wall = datetime(day.year, day.month, day.day, rest // 60, rest % 60, tzinfo=zone) + timedelta(days=days)
    return (wall - _EPOCH) // _MINUTE
