"""Shapes of a drawing, worked out here so that templates only print them. Across the page, or down it for a phone."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

LETTER = 7.4  # the width of a letter at the size of text in drawings


@dataclass(frozen=True)
class Box:
    x: float
    y: float
    width: float
    height: float
    look: str
    title: str = ""


@dataclass(frozen=True)
class Line:
    x1: float
    y1: float
    x2: float
    y2: float
    look: str


@dataclass(frozen=True)
class Words:
    x: float
    y: float
    text: str
    look: str = ""
    anchor: str = "start"


@dataclass(frozen=True)
class Drawing:
    width: float
    height: float
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    words: tuple[Words, ...]


@dataclass(frozen=True)
class Bar:
    """Something on a line of time: from and until are minutes from the start of the axis, already cut to it."""

    start: int
    end: int
    look: str  # worked, clamped, curing, resting
    label: str
    title: str


@dataclass(frozen=True)
class Axis:
    """A stretch of one day: how long, where the shop is open in it, and its ticks."""

    minutes: int
    open: tuple[tuple[int, int], ...]
    ticks: tuple[tuple[int, str], ...]
    now: int | None


def fits(text: str, room: float) -> bool:
    return len(text) * LETTER <= room


def shortened(text: str, room: float) -> str:
    """Return as much of a label as there is room for; nothing rather than a stump."""
    if fits(text, room):
        return text
    kept = int(room / LETTER) - 1
    return f"{text[:kept].rstrip()}…" if kept >= 5 else ""


def lanes(bars: Iterable[Bar], gap: int) -> list[list[Bar]]:
    """Return bars on as few lines as they need without touching, the earliest first."""
    found: list[list[Bar]] = []
    for bar in sorted(bars, key=lambda one: (one.start, -one.end)):
        for lane in found:
            if lane[-1].end + gap <= bar.start:
                lane.append(bar)
                break
        else:
            found.append([bar])
    return found


WORK_TOP, WORK_HEIGHT = 22, 34
WAIT_TOP, WAIT_STEP, WAIT_HEIGHT = 62, 32, 10


def across(axis: Axis, work: Sequence[Sequence[Bar]], waits: Sequence[Bar], width: float = 1020) -> Drawing:
    """Return a day as a band across the page: the shop's hours, hands-on work inside, waits beneath."""
    scale = width / axis.minutes
    rows = max(1, len(work))
    shift = (rows - 1) * (WORK_HEIGHT + 4)
    wait_lanes = lanes(waits, gap=20)
    height = WAIT_TOP + shift + len(wait_lanes) * WAIT_STEP + 2
    bottom = WORK_TOP + shift + WORK_HEIGHT
    boxes = [Box(0, WORK_TOP, width, bottom - WORK_TOP, "shut")]
    boxes += [Box(a * scale, WORK_TOP, (b - a) * scale, bottom - WORK_TOP, "open") for a, b in axis.open]
    lines = [Line(at * scale, WORK_TOP - 4, at * scale, height, "rule") for at, _ in axis.ticks]
    words = [Words(at * scale + 3, 14, text, "p") for at, text in axis.ticks]
    for row, bars in enumerate(work):
        top = WORK_TOP + row * (WORK_HEIGHT + 4) + 3
        for bar in bars:
            x, room = bar.start * scale, max(3.0, (bar.end - bar.start) * scale)
            boxes.append(Box(x, top, room, WORK_HEIGHT - 6, bar.look, bar.title))
            words.append(Words(x + 6, top + 19, shortened(bar.label, room - 12), "on"))
    for row, bars in enumerate(wait_lanes):
        top = WAIT_TOP + shift + row * WAIT_STEP
        free = 0.0
        for bar in bars:
            x, room = bar.start * scale, max(3.0, (bar.end - bar.start) * scale)
            boxes.append(Box(x, top, room, WAIT_HEIGHT, f"{bar.look} outline", bar.title))
            word = _beneath(bar, x, top + WAIT_HEIGHT + 14, free, width)
            words.append(word)
            free = max(free, word.x + len(word.text) * LETTER + 10)
    lines += _now(axis, scale, height)
    return Drawing(width, height, tuple(boxes), tuple(lines), tuple(word for word in words if word.text))


def _beneath(bar: Bar, x: float, y: float, free: float, width: float) -> Words:
    """Return the label under a wait: from its beginning, moved left where the page ends, left out where one stands."""
    text = shortened(bar.label, width - 4)
    x = min(x + 2, width - len(text) * LETTER)
    return Words(x, y, text if x >= free else "", "p")


def _now(axis: Axis, scale: float, height: float) -> list[Line]:
    return [] if axis.now is None else [Line(axis.now * scale, 8, axis.now * scale, height, "nowline")]


LEFT, NARROW, HOUR = 54, 350, 46
STRIP = 15


def upright(axis: Axis, work: Sequence[Sequence[Bar]], waits: Sequence[Bar]) -> Drawing:
    """Return a day down the page for a phone: hours at the left, work with its names, waits as strips at the right."""
    scale = HOUR / 60
    height = axis.minutes * scale + 12
    strips = lanes(waits, gap=10)[:5]
    right = NARROW - len(strips) * (STRIP + 5)
    boxes = [Box(LEFT, 0, right - LEFT - 6, height, "shut")]
    boxes += [Box(LEFT, a * scale, right - LEFT - 6, (b - a) * scale, "open") for a, b in axis.open]
    lines = [Line(0, at * scale, right - 6, at * scale, "rule") for at, _ in axis.ticks]
    words = [Words(0, at * scale + 14, text, "p") for at, text in axis.ticks]
    room = (right - LEFT - 6) / max(1, len(work))
    for column, bars in enumerate(work):
        x = LEFT + column * room
        for bar in bars:
            top, tall = bar.start * scale, max(3.0, (bar.end - bar.start) * scale)
            boxes.append(Box(x + 2, top + 1, room - 4, tall - 1, bar.look, bar.title))
            if tall >= 16:
                words.append(Words(x + 8, top + min(tall - 4, 18), shortened(bar.label, room - 16), "on"))
    for column, bars in enumerate(strips):
        x = right + column * (STRIP + 5)
        boxes += [
            Box(x, bar.start * scale, STRIP, max(3.0, (bar.end - bar.start) * scale), f"{bar.look} outline", bar.title)
            for bar in bars
        ]
    if axis.now is not None:
        lines.append(Line(0, axis.now * scale, NARROW, axis.now * scale, "nowline"))
    return Drawing(NARROW, height, tuple(boxes), tuple(lines), tuple(word for word in words if word.text))
