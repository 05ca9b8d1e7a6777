"""Boxes of whole pixels about outlines, so that no more of a picture is touched than has to be."""

import math
from collections.abc import Iterable, Iterator, Sequence

from webapp.invented.drawings.space import Spot

Box = tuple[int, int, int, int]  # left, top, right, bottom
STRIP = 150


def around(spots: Iterable[Spot], size: tuple[int, int], margin: int = 6) -> Box:
    """Return the box of whole pixels about some spots, inside a picture of that size."""
    xs, ys = zip(*spots, strict=True)
    left, top = max(0, math.floor(min(xs)) - margin), max(0, math.floor(min(ys)) - margin)
    right, low = min(size[0], math.ceil(max(xs)) + margin), min(size[1], math.ceil(max(ys)) + margin)
    return left, top, max(left + 1, right), max(top + 1, low)


def strips(spots: Sequence[Spot], whole: Box) -> Iterator[Box]:
    """Yield boxes that cover an outline: one, or several upright ones where it lies slantwise in a large box."""
    left, top, right, low = whole
    wide = right - left
    if wide < STRIP * 2 or _area(spots) > 0.55 * wide * (low - top):
        yield whole
        return
    count = -(-wide // STRIP)
    for i in range(count):
        x0, x1 = left + wide * i // count, left + wide * (i + 1) // count
        ys = _heights(spots, x0, x1)
        if ys and min(ys) - 3 < low and max(ys) + 3 > top:
            yield x0, max(top, math.floor(min(ys)) - 3), x1, min(low, math.ceil(max(ys)) + 3)


def _area(spots: Sequence[Spot]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(spots, [*spots[1:], spots[0]], strict=True))) / 2


def _heights(spots: Sequence[Spot], x0: int, x1: int) -> list[float]:
    """The heights at which an outline's corners and edges lie between two uprights."""
    found = [y for x, y in spots if x0 <= x <= x1]
    for (ax, ay), (bx, by) in zip(spots, [*spots[1:], spots[0]], strict=True):
        found += [ay + (by - ay) * (x - ax) / (bx - ax) for x in (x0, x1) if min(ax, bx) < x < max(ax, bx)]
    return found
