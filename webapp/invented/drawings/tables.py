"""Pieces that stand on legs: the hall table, the writing desk, the stools."""

import math
from random import Random

from webapp.invented.drawings.solids import Solid, between, box, marked, rod, slab, tapered
from webapp.invented.drawings.space import Point

ASH, CHERRY, MAPLE = "ash", "cherry", "maple"


def base(wood: str, long: float, deep: float, high: float, *, apron: float = 90, leg: float = 44, foot: float = 26,
         inset: float = 18, under: float = 26) -> list[Solid]:  # fmt: skip
    """Return legs and aprons, without a top."""
    x, y = long / 2 - inset - leg / 2, deep / 2 - inset - leg / 2
    legs = [
        tapered(wood, (sx * (x + 4), sy * (y + 4), 0), (sx * x, sy * y, high), foot, leg, pick=i, under=under * 0.7)
        for i, (sx, sy) in enumerate(((-1, -1), (1, -1), (-1, 1), (1, 1)))
    ]
    low, thick = high - apron, 22
    rails = [
        box(wood, (-x + leg / 2, side * y - thick / 2, low), (2 * x - leg, thick, apron), "x", under=under, pick=5)
        for side in (-1, 1)
    ]
    ends = [
        box(wood, (side * x - thick / 2, -y + leg / 2, low), (thick, 2 * y - leg, apron), "y", under=under, pick=6)
        for side in (-1, 1)
    ]
    return [*legs, *rails, *ends]


def hall_table(*, top: bool = True) -> list[Solid]:
    under = 26 if top else 0
    parts = base(ASH, 1100, 340, 758, under=under)
    return [*parts, box(ASH, (-550, -170, 758), (1100, 340, 22), "x", shine=0.5, pick=9)] if top else parts


def desk(*, top: bool = True, drawers: bool = True) -> list[Solid]:
    """Two shallow drawers under the top, a low gallery behind."""
    wood, long, deep, high = CHERRY, 1240, 600, 716
    under = 24 if top else 0
    parts = base(wood, long, deep, high, apron=110, leg=48, foot=28, under=under)
    if drawers:
        front = -deep / 2 + 18 + 48 / 2 - 11
        parts = [part for part in parts if not _is_front_rail(part, front)]
        parts += [
            box(wood, (-554, front, high - 110), (1108, 22, 16), "x", pick=3),
            box(wood, (-554, front, high - 14), (1108, 22, 14), "x", pick=3, under=under / 2),
            box(wood, (-12, front, high - 94), (24, 22, 80), "z", pick=4, under=under),
        ]
        for left in (-550, 16):
            face = box(wood, (left, front + 1, high - 92), (534, 20, 76), "x", pick=7 if left < 0 else 8, under=under)
            parts.append(face)
            parts += _knob((left + 267, front + 1, high - 54))
    if not top:
        return parts
    parts.append(box(wood, (-long / 2, -deep / 2, high), (long, deep, 24), "x", shine=0.6, pick=9))
    parts.append(box(wood, (-long / 2 + 30, deep / 2 - 26, high + 24), (long - 60, 16, 70), "x", pick=10))
    return parts


def _is_front_rail(part: Solid, front: float) -> bool:
    low, high = part.bounds()
    return abs(low.y - front) < 2 and high.x - low.x > 500


def _knob(at: tuple[float, float, float]) -> list[Solid]:
    x, y, z = at
    return [rod("walnut", (x, y, z), (x, y - 20, z), 22, sides=14)]


def stool(at: tuple[float, float] = (0, 0), *, high: float = 450, pick: int = 0) -> list[Solid]:
    """A round seat on three splayed legs with stretchers."""
    x, y = at
    parts = []
    feet, necks = [], []
    for i in range(3):
        angle = math.radians(100 + 120 * i)
        feet.append((x + 172 * math.cos(angle), y + 172 * math.sin(angle), 0.0))
        necks.append((x + 96 * math.cos(angle), y + 96 * math.sin(angle), high - 34))
        parts.append(tapered(MAPLE, feet[i], necks[i], 24, 34, sides=12, pick=pick + i, under=30))
    for i in range(3):
        share = 0.36
        one, two = (
            tuple(f + (n - f) * share for f, n in zip(feet[k], necks[k], strict=True)) for k in (i, (i + 1) % 3)
        )
        parts.append(rod(MAPLE, one, two, 17))
    seat = [(170 * math.cos(math.tau * i / 48), 170 * math.sin(math.tau * i / 48)) for i in range(48)]
    top = slab(MAPLE, seat, Point(x, y, high), Point(1, 0, 0), Point(0, 1, 0), 34, Point(0, 1, 0), pick=pick,
               round_edge=True)  # fmt: skip
    return [*parts, top]


def seat_blank(at: tuple[float, float, float], pick: int) -> Solid:
    """A square of maple with the circle still to be cut."""
    x, y, z = at
    return box(MAPLE, (x - 178, y - 178, z), (356, 356, 40), "y", pick=pick)


def with_mortise(leg: Solid, x: float, y: float, z: float, wide: float, high: float) -> Solid:
    """Return a leg with the dark of a mortise on its front face."""
    corners = [Point(x, y, z), Point(x + wide, y, z), Point(x + wide, y, z + high), Point(x, y, z + high)]
    return marked(leg, corners, (58, 42, 30))


def legs_lying(rng: Random, wood: str, count: int, long: float) -> list[Solid]:
    """Tapered legs side by side on the bench."""
    out = []
    for i in range(count):
        y = (i - (count - 1) / 2) * 78 + rng.uniform(-5, 5)
        shift = rng.uniform(-14, 14)
        corners = []
        for x, half, up in ((-long / 2 + shift, 13, 26), (long / 2 + shift, 22, 44)):
            spots = ((-half, 0), (half, 0), (half, up), (-half, up))
            corners.append([Point(x, y + aside, z) for aside, z in spots])
        (a, b, c, d), (e, f, g, h) = corners
        out.append(_hexahedron(wood, [a, e, f, b], [d, h, g, c], i))
    return out


def _hexahedron(wood: str, low: list[Point], high: list[Point], pick: int) -> Solid:
    return between(wood, low, high, "x", pick=pick)
