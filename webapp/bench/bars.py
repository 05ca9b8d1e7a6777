"""A wait as a bar: how much of it is over, and its notches with words that do not run into each other. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from webapp.web.notches import Notch, notches

ROOM = 98.0  # per cent of the width for the wait itself: its last notch stands clear of the edge


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar, in per cent of its width; the height is pixels."""

    over: float
    notches: tuple[Notch, ...]
    height: int


def bar(begin: datetime, now: datetime, marks: Iterable[tuple[datetime, str]]) -> Bar:
    """Return the bar of a wait.

    Takes:   when it began, the present instant, and the instants on it with their words.
    Returns: the part that is over, and notches in order of time, each on the first line where its words find room.
    """
    ordered = sorted(marks)
    last = max([now, *(at for at, _ in ordered)])
    whole = max((last - begin).total_seconds(), 1.0)
    found = notches((_place(begin, at, whole), text) for at, text in ordered)
    return Bar(_place(begin, now, whole), found.marks, found.height)


def _place(begin: datetime, at: datetime, whole: float) -> float:
    return round(ROOM * min(1.0, max(0.0, (at - begin).total_seconds() / whole)), 2)
