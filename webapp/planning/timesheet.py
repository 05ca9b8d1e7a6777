"""Hours by day, person and thing worked on: what is shown, charged and learned from.

Minutes are whole and cut down, once for each line, so that no day is ever shown longer than it was; every total is a
sum of lines, so that a sheet adds up. A local day is 23 or 25 hours long where the clocks change, and what is
subtracted are instants, never wall clocks.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TypeVar
from zoneinfo import ZoneInfo

from webapp.planning.labour import midnight_after
from webapp.planning.stretches import Stretch

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True)
class Line:
    """Whole minutes of one person on one thing on one local day.

    `remembered` was filled in afterwards; `asked` waits for an answer to "stopped when?" and may yet change.
    """

    day: date
    maker: int | None
    operation: int | None
    build: int | None
    shop_time: str | None
    remembered: bool
    asked: bool
    minutes: int


@dataclass(frozen=True)
class Hours:
    """Minutes in all, and how many of them are remembered and how many still asked about."""

    minutes: int = 0
    remembered: int = 0
    asked: int = 0


def hours(stretches: Iterable[Stretch], zone: ZoneInfo) -> tuple[Line, ...]:
    """Return the time sheet of what was booked.

    Takes:   stretches as `booked` gives them; the shop's zone.
    Returns: lines by day, person, operation, build and shop time; none of less than a minute. Remembered time is
             whole, on the day it was given for, or else the day of its end.
    Raises:  nothing.
    Source:  shop rule; local days by the zone data.

    >>> from webapp.planning.entry import utc
    >>> night = Stretch(1, 7, 3, None, utc("2026-02-02T23:00Z"), utc("2026-02-03T01:30Z"))
    >>> [(line.day.day, line.minutes) for line in hours([night], ZoneInfo("UTC"))]
    [(2, 60), (3, 90)]
    """
    sums: dict[Line, timedelta] = defaultdict(timedelta)
    for stretch in stretches:
        for day, length in _days(stretch, zone):
            sums[_empty(day, stretch)] += length
    lines = [replace(line, minutes=length // timedelta(minutes=1)) for line, length in sums.items()]
    return tuple(sorted((line for line in lines if line.minutes), key=_order))


def total(lines: Iterable[Line], by: Callable[[Line], Key]) -> dict[Key, Hours]:
    """Return the hours added up by whatever is asked.

    Takes:   lines; what to add up by, such as the day, or the build and the maker.
    Returns: hours by that, in the order of the lines.
    Raises:  nothing.
    Source:  shop rule: a total is the sum of its lines.

    >>> line = Line(date(2026, 2, 2), 1, 7, 3, None, False, False, 90)
    >>> total([line, line], lambda line: line.build)
    {3: Hours(minutes=180, remembered=0, asked=0)}
    """
    sums: dict[Key, Hours] = {}
    for line in lines:
        so_far = sums.get(by(line), Hours())
        sums[by(line)] = Hours(
            so_far.minutes + line.minutes,
            so_far.remembered + (line.minutes if line.remembered else 0),
            so_far.asked + (line.minutes if line.asked else 0),
        )
    return sums


def _days(stretch: Stretch, zone: ZoneInfo) -> Iterator[tuple[date, timedelta]]:
    if stretch.remembered:
        yield stretch.day or stretch.end.astimezone(zone).date(), stretch.end - stretch.start
        return
    start = stretch.start
    while start < stretch.end:
        end = min(stretch.end, midnight_after(start, zone))
        yield start.astimezone(zone).date(), end - start
        start = end


def _empty(day: date, stretch: Stretch) -> Line:
    return Line(
        day,
        stretch.maker,
        stretch.operation,
        stretch.build,
        stretch.shop_time,
        stretch.remembered,
        stretch.asked,
        0,
    )


def _order(line: Line) -> tuple[date, list[int], str, bool, bool]:
    numbers = [-1 if key is None else key for key in (line.maker, line.operation, line.build)]
    return line.day, numbers, line.shop_time or "", line.remembered, line.asked
