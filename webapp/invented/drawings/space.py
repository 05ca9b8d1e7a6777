"""From the room to the paper: a camera that looks level, so that upright lines stay upright, and flat faces of wood.

Lengths are millimetres: x to the right, y away from the eye, z up.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple


class Point(NamedTuple):
    x: float
    y: float
    z: float

    def plus(self, other: "Point", times: float = 1.0) -> "Point":
        return Point(self.x + other.x * times, self.y + other.y * times, self.z + other.z * times)

    def minus(self, other: "Point") -> "Point":
        return self.plus(other, -1)

    def dot(self, other: "Point") -> float:
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: "Point") -> "Point":
        return Point(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )

    def unit(self) -> "Point":
        length = math.sqrt(self.dot(self)) or 1.0
        return Point(self.x / length, self.y / length, self.z / length)


Spot = tuple[float, float]


@dataclass(frozen=True)
class Camera:
    """Stands `away` from the origin at a height, turned by degrees about it; `scale` is pixels per mm at the origin."""

    turned: float
    away: float
    height: float
    scale: float
    middle: Spot  # where the point (0, 0, look) comes to lie on the paper
    look: float = 0.0

    @property
    def eye(self) -> Point:
        angle = math.radians(self.turned)
        return Point(-self.away * math.sin(angle), -self.away * math.cos(angle), self.height)

    def spot(self, point: Point) -> Spot:
        """Return where a point comes to lie on the paper, in pixels."""
        angle = math.radians(self.turned)
        right = point.x * math.cos(angle) - point.y * math.sin(angle)
        deep = point.x * math.sin(angle) + point.y * math.cos(angle) + self.away
        size = self.scale * self.away / max(deep, self.away * 0.05)
        drop = (point.z - self.height) * size - (self.look - self.height) * self.scale
        return self.middle[0] + right * size, self.middle[1] - drop


def homography(plane: list[Spot], paper: list[Spot]) -> tuple[float, ...]:
    """Return the eight figures that take a spot of the paper to the plane, from four pairs of corners."""
    rows: list[list[float]] = []
    for (u, v), (x, y) in zip(plane, paper, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    return tuple(_solved(rows))


def _solved(rows: list[list[float]]) -> list[float]:
    count = len(rows)
    for i in range(count):
        pivot = max(range(i, count), key=lambda row: abs(rows[row][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        head = rows[i][i] or 1e-12
        rows[i] = [value / head for value in rows[i]]
        for j in range(count):
            if j != i and rows[j][i]:
                rows[j] = [a - rows[j][i] * b for a, b in zip(rows[j], rows[i], strict=True)]
    return [row[-1] for row in rows]
