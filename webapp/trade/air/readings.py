"""What was measured of the air, and for how long it holds: until the next reading, twelve hours at most.

Temperature, humidity and whether the hours count are three tracks, each by itself. Instants are minutes since 1970 UTC.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

HOLDS = 12 * 60  # minutes that a reading holds at most
NEVER = 1 << 62  # an instant that does not come


@dataclass(frozen=True, slots=True)
class Reading:
    """What was measured at an instant; without a room it holds in all.

    `counts` false: no wait runs while it holds; none: it says nothing of that, and what was said before goes on.
    """

    at: int
    temperature: float | None = None
    humidity: float | None = None
    room: str | None = None
    counts: bool | None = True


@dataclass(frozen=True, slots=True)
class Held:
    """A value that a reading gave, from when until when it holds."""

    begin: int
    end: int
    value: float


class Track:
    """One thing that readings tell: from when until when which value holds. The readings come in order of time."""

    def __init__(self, readings: Iterable[tuple[int, float | None]]) -> None:
        given = [(at, value) for at, value in readings if value is not None]
        following = [*(at for at, _ in given[1:]), NEVER][: len(given)]
        held = [(at, min(end, at + HOLDS), value) for (at, value), end in zip(given, following, strict=True)]
        held = [one for one in held if one[1] > one[0]]  # of two at one instant the later one holds
        self.begins = [one[0] for one in held]
        self.ends = [one[1] for one in held]
        self.values = [one[2] for one in held]

    def at(self, instant: int, otherwise: float | None) -> float | None:
        """The value at an instant, or another one where no reading holds."""
        index = bisect_right(self.begins, instant) - 1
        return self.values[index] if index >= 0 and instant < self.ends[index] else otherwise

    def over(self, begin: int, end: int) -> Iterator[Held]:
        """The values that hold in a span, cut at its ends."""
        index = bisect_right(self.ends, begin)
        while index < len(self.begins) and self.begins[index] < end:
            yield Held(max(self.begins[index], begin), min(self.ends[index], end), self.values[index])
            index += 1
