"""Stretches of time that count, and how overlapping clocks of one person share the minutes."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime


@dataclass(frozen=True)
class Stretch:
    """Time booked for one person on one thing; `day` is the local date a remembered time was given for, if it was."""

    maker: int | None
    operation: int | None
    build: int | None
    shop_time: str | None
    start: datetime
    end: datetime
    remembered: bool = False
    asked: bool = False
    day: date | None = None


def shared(clocks: Iterable[Stretch]) -> list[Stretch]:
    """Return one person's clocks laid so that the one started last has each minute.

    Takes:   stretches of one person in order of start; they may overlap.
    Returns: stretches that do not.
    Raises:  nothing.
    Source:  shop rule: overlapping minutes go to the clock that was started last.

    >>> at = [datetime.fromisoformat(f"2026-02-02T{hour}:00Z") for hour in ("09", "10", "11", "12")]
    >>> long, short = Stretch(1, 7, None, None, at[0], at[3]), Stretch(1, 8, None, None, at[1], at[2])
    >>> [(s.operation, s.start.hour, s.end.hour) for s in shared([long, short])]
    [(7, 9, 10), (8, 10, 11), (7, 11, 12)]
    """
    out: list[Stretch] = []
    held: list[Stretch] = []
    for clock in clocks:
        out += _run(held, clock.start)
        held.append(clock)
    return out + _run(held, None)


def _run(held: list[Stretch], until: datetime | None) -> list[Stretch]:
    """Let the topmost of the held clocks run up to `until`, each over once it has ended; the rest keep what is left."""
    out = []
    while held:
        top = held.pop()
        end = top.end if until is None else min(top.end, until)
        if end > top.start:
            out.append(replace(top, start=top.start, end=end))
            held[:] = [replace(below, start=max(below.start, end)) for below in held]
        if until is not None and top.end > until:
            held.append(replace(top, start=max(top.start, until)))
            break
    return out
