"""A wait as a bar: how much of it is over, and its notches with words that do not run into each other. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

ROOM = 98.0  # per cent of the width for the wait itself: its last notch stands clear of the edge
LETTER = 2.5  # per cent of the width of a phone that a letter takes
GAP = 2.0
LINE, TOP = 18, 42  # pixels from line to line of words, and down to the first


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark across the bar: where, in per cent of its width, and its words, on which line and how they are set."""

    x: float
    text: str
    anchor: str
    y: int


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
    taken: list[float] = []
    notches = []
    for at, text in ordered:
        x = _place(begin, at, whole)
        anchor, left, right = _set(x, len(text) * LETTER)
        line = next((i for i, end in enumerate(taken) if left > end), len(taken))
        taken[line : line + 1] = [right + GAP]
        notches.append(Notch(x, text, anchor, TOP + line * LINE))
    return Bar(_place(begin, now, whole), tuple(notches), TOP + 8 + max(0, len(taken) - 1) * LINE)


def _place(begin: datetime, at: datetime, whole: float) -> float:
    return round(ROOM * min(1.0, max(0.0, (at - begin).total_seconds() / whole)), 2)


def _set(x: float, width: float) -> tuple[str, float, float]:
    """How words of a width are set at a place so that they stay inside: anchor, left and right end."""
    if x - width / 2 < 0:
        return "start", x, x + width
    if x + width / 2 > 100:
        return "end", x - width, x
    return "middle", x - width / 2, x + width / 2
