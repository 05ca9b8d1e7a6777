"""The strip of a product's page: the wait with its stages, and the windows for the next layer, to one scale of time.

What lies too far off to be drawn beside the first stage is left to the table, which says all of it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from webapp.planning.begun_now import BegunNow, Open
from webapp.products.models import FINISH, GLUE
from webapp.products.words import first
from webapp.web.notches import Notches, notches

FARTHEST = 50  # times the first wait that is drawn
ROOM = 86.0  # per cent of the width for what is known; the rest shows how it goes on
TITLE, GAP = 20, 6  # pixels

Say = Callable[[int], str]  # an instant in words


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a band in per cent of its width, and its mark."""

    x: float
    width: float
    look: str


@dataclass(frozen=True, slots=True)
class Band:
    """A line of the strip: its name, how far down it lies in pixels, its parts and notches."""

    title: str
    y: int
    pieces: tuple[Piece, ...]
    notches: Notches


@dataclass(frozen=True, slots=True)
class Strip:
    bands: tuple[Band, ...]
    height: int


def strip(begun: BegunNow, use: str, say: Say) -> Strip | None:
    """Return the strip of what can be said of a wait that begins now; nothing where nothing can."""
    stages = sorted((one.end, one.name) for one in begun.stages if one.end is not None and one.end > begun.now)
    windows = [one for one in begun.windows if one.opens.end is not None]
    last = _last(begun.now, [*(end for end, _ in stages), *_instants(windows)])
    if last is None:
        return None
    scale = _Scale(begun.now, last)
    lines = [("The wait", _wait(scale, stages, use), [(end, f"{name} {say(end)}") for end, name in stages])]
    if windows:
        lines.append(("The next layer", _layers(scale, windows), list(_window_marks(windows, say))))
    bands: list[Band] = []
    y = 0
    for title, pieces, marks in lines:
        if pieces:
            found = notches((scale.x(at), text) for at, text in sorted(marks) if at <= last)
            bands.append(Band(title, y, tuple(pieces), found))
            y += TITLE + found.height + GAP
    return Strip(tuple(bands), y)


def _last(now: int, instants: Sequence[int]) -> int | None:
    """The farthest instant that can be drawn to the scale of the nearest."""
    ahead = sorted(at for at in instants if at > now)
    return max((at for at in ahead if at - now <= FARTHEST * (ahead[0] - now)), default=None)


def _instants(windows: Sequence[Open]) -> Iterator[int]:
    for window in windows:
        for told in (window.opens, window.shuts):
            if told is not None and told.end is not None:
                yield told.end


class _Scale:
    def __init__(self, now: int, last: int) -> None:
        self.now, self._minutes = now, (last - now) * 100 / ROOM

    def x(self, at: int) -> float:
        return round(min(100.0, (at - self.now) * 100 / self._minutes), 2)

    def piece(self, begin: int, end: int | None, look: str) -> Piece:
        x = self.x(begin)
        return Piece(x, round((100.0 if end is None else self.x(end)) - x, 2), look)


def _wait(scale: _Scale, stages: Sequence[tuple[int, str]], use: str) -> list[Piece]:
    if not stages:
        return []
    end, name = stages[0]
    if use == GLUE and "clamp" in name:
        rest = [scale.piece(end, stages[-1][0], "resting")] if len(stages) > 1 else []
        return [scale.piece(scale.now, end, "clamped"), *rest]
    return [scale.piece(scale.now, stages[-1][0], "curing" if use == FINISH else "resting")]


def _layers(scale: _Scale, windows: Sequence[Open]) -> list[Piece]:
    """Open and shut in turn."""
    found: list[Piece] = []
    shut: int | None = scale.now
    for window in windows:
        opens = window.opens.end
        if opens is None or shut is None:
            break
        if opens > shut:
            found.append(scale.piece(shut, opens, "shut"))
        shut = None if window.shuts is None else window.shuts.end
        found.append(scale.piece(opens, shut, "open"))
    return [*found, *([] if shut is None else [scale.piece(shut, None, "shut")])]


def _window_marks(windows: Sequence[Open], say: Say) -> Iterator[tuple[int, str]]:
    opening = {window.opens.end for window in windows}
    for window in windows:
        if window.opens.end is not None:
            yield window.opens.end, f"{first(window.needs) if window.needs else 'open'} from {say(window.opens.end)}"
        if window.shuts is not None and window.shuts.end is not None and window.shuts.end not in opening:
            yield window.shuts.end, f"shut from {say(window.shuts.end)}"
