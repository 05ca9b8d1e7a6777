"""Notches on a strip that is as wide as its place, with words under it that do not run into each other. Pure."""

from collections.abc import Iterable
from dataclasses import dataclass

LETTER = 2.5  # per cent of the width of a phone that a letter takes
GAP = 2.0
LINE, TOP = 18, 42  # pixels from line to line of words, and down to the first
WORDS = 14  # pixels from the line that words stand on up to their top


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark across a strip: where, in per cent of its width, and its words, on which line and how they are set."""

    x: float
    text: str
    anchor: str
    y: int

    @property
    def foot(self) -> int:
        """How far down the mark reaches: to the top of its words."""
        return self.y - WORDS


@dataclass(frozen=True, slots=True)
class Notches:
    """Marks across a strip, and how many pixels it and its words are high."""

    marks: tuple[Notch, ...]
    height: int


def notches(marks: Iterable[tuple[float, str]]) -> Notches:
    """Return marks, given in order from left to right, each with its words on the first line where they find room."""
    taken: list[float] = []
    found = []
    for x, text in marks:
        anchor, left, right = _set(x, len(text) * LETTER)
        line = next((i for i, end in enumerate(taken) if left > end), len(taken))
        taken[line : line + 1] = [right + GAP]
        found.append(Notch(x, text, anchor, TOP + line * LINE))
    return Notches(tuple(found), TOP + 8 + max(0, len(taken) - 1) * LINE)


def _set(x: float, width: float) -> tuple[str, float, float]:
    """How words of a width are set at a place so that they stay inside: anchor, left and right end."""
    if x - width / 2 < 0:
        return "start", x, x + width
    if x + width / 2 > 100:
        return "end", x - width, x
    return "middle", x - width / 2, x + width / 2
