"""The open hours of a week: put together, checked, and laid out to be drawn. Weekdays count from Monday 0."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from webapp.web.filters import LONG_DAYS


class Stretch(Protocol):
    """Open hours on one weekday, in minutes after midnight."""

    weekday: int
    opens: int
    closes: int


@dataclass(frozen=True)
class Bar:
    """One stretch as drawn: where it begins and how wide it is, in minutes of the shown span."""

    x: int
    width: int


@dataclass(frozen=True)
class Day:
    name: str
    bars: tuple[Bar, ...]
    text: str


@dataclass(frozen=True)
class Week:
    """A week as drawn: its days between the earliest opening and the latest closing, whole hours."""

    days: tuple[Day, ...]
    first: int
    last: int

    @property
    def span(self) -> int:
        return self.last - self.first

    @property
    def hours(self) -> tuple[Bar, ...]:
        """A line every hour."""
        return tuple(Bar(at - self.first, 60) for at in range(self.first, self.last, 60))


def clock(minutes: int) -> str:
    """Return a time of day as it is shown.

    >>> clock(450), clock(1440)
    ('07:30', '24:00')
    """
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def lay_out(stretches: Iterable[Stretch]) -> Week:
    """Return a week to draw."""
    found = sorted((each.weekday, each.opens, each.closes) for each in stretches)
    first = min((opens for _, opens, _ in found), default=8 * 60) // 60 * 60
    last = -(-max((closes for _, _, closes in found), default=17 * 60) // 60) * 60
    days = (_day(number, [(o, c) for weekday, o, c in found if weekday == number], first) for number in range(7))
    return Week(tuple(days), first, last)


def _day(number: int, stretches: Sequence[tuple[int, int]], first: int) -> Day:
    bars = tuple(Bar(opens - first, closes - opens) for opens, closes in stretches)
    text = ", ".join(f"{clock(opens)}–{clock(closes)}" for opens, closes in stretches)
    return Day(LONG_DAYS[number], bars, text or "shut")


def in_words(stretches: Iterable[Stretch]) -> str:
    """Return a week in one line: days in a row with the same hours are said once.

    Mon–Fri 08:00–12:00, 13:00–17:00; Sat 09:00–12:00
    """
    days = lay_out(stretches).days
    runs: list[tuple[int, int, str]] = []
    for number, day in enumerate(days):
        if runs and runs[-1][2] == day.text:
            runs[-1] = (runs[-1][0], number, day.text)
        else:
            runs.append((number, number, day.text))
    return "; ".join(f"{_days(a, b)} {text}" for a, b, text in runs if text != "shut") or "never"


def _days(first: int, last: int) -> str:
    short = [name[:3] for name in LONG_DAYS]
    return short[first] if first == last else f"{short[first]}–{short[last]}"
