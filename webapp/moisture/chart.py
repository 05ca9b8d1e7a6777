"""Readings over time as a drawing: the line of the wood, and the band it has to come into."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from math import ceil, floor

from webapp.moisture.models import Measured
from webapp.web.filters import day

WIDTH, HEIGHT = 360, 220
LEFT, RIGHT, TOP, BOTTOM = 44, 350, 14, 188


@dataclass(frozen=True)
class Mark:
    x: float
    y: float
    text: str


@dataclass(frozen=True)
class Chart:
    """Where things stand: dots with what they say, lines of whole percents, the band, the first and the last day."""

    dots: tuple[Mark, ...]
    rules: tuple[Mark, ...]
    band: tuple[float, float] | None  # its upper edge and its height
    first: str
    last: str

    @property
    def path(self) -> str:
        return " ".join(f"{dot.x:.1f},{dot.y:.1f}" for dot in self.dots)


def chart(rows: Sequence[Measured], band: tuple[float, float] | None) -> Chart | None:
    """Return the drawing of readings, oldest first; none for fewer than two."""
    if len(rows) < 2:
        return None
    seen = [row.counts_as for row in rows] + list(band or ())
    low, high = floor(min(seen) - 0.5), ceil(max(seen) + 0.5)
    begun, whole = rows[0].at, max(rows[-1].at - rows[0].at, timedelta(minutes=1))

    def height(moisture: float) -> float:
        return BOTTOM - (moisture - low) / (high - low) * (BOTTOM - TOP)

    dots = tuple(
        Mark(LEFT + 8 + (row.at - begun) / whole * (RIGHT - LEFT - 16), height(row.counts_as), f"{row.counts_as:g}")
        for row in rows
    )
    step = max(1, ceil((high - low) / 6))
    rules = tuple(Mark(LEFT, height(at), f"{at} %") for at in range(low, high + 1, step))
    edges = (height(band[1]), height(band[0]) - height(band[1])) if band else None
    return Chart(dots, rules, edges, day(rows[0].at), day(rows[-1].at))
