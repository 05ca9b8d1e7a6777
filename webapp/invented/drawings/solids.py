"""Solids of wood and iron: faces with corners, the way of their grain, and how each takes the light."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from webapp.invented.drawings.space import Point

X, Y, Z = Point(1, 0, 0), Point(0, 1, 0), Point(0, 0, 1)
AXES = {"x": X, "y": Y, "z": Z}


@dataclass(frozen=True)
class Face:
    """A flat face. `along` is the way of the grain in it; none is end grain. Plain colours have no grain at all."""

    corners: tuple[Point, ...]
    normal: Point
    along: Point | None = None
    lines: bool = True
    under: float = 0.0  # mm at its top that lie in the shadow of what is above


@dataclass(frozen=True)
class Solid:
    """Faces of one stuff, the nearest last; `mark` are faces drawn on it (a mortise, a glue line)."""

    faces: tuple[Face, ...]
    stuff: str
    shine: float = 0.0
    marks: tuple[tuple[Face, tuple[int, int, int]], ...] = field(default=())
    pick: int = 0  # which stretch of the board it is cut from; equal numbers look alike

    @property
    def points(self) -> list[Point]:
        return [corner for face in self.faces for corner in face.corners]

    def bounds(self) -> tuple[Point, Point]:
        columns = list(zip(*self.points, strict=True))
        return Point(*(min(column) for column in columns)), Point(*(max(column) for column in columns))


def box(stuff: str, at: Sequence[float], size: Sequence[float], grain: str = "x", *, under: float = 0.0,
        shine: float = 0.0, pick: int = 0) -> Solid:  # fmt: skip
    """Return a squared piece: its lowest left front corner, its size, the way of its grain."""
    (x, y, z), (w, d, h) = at, size
    low = [Point(x, y, z), Point(x + w, y, z), Point(x + w, y + d, z), Point(x, y + d, z)]
    return between(stuff, low, [point.plus(Z, h) for point in low], grain, under=under, shine=shine, pick=pick)


def between(stuff: str, low: Sequence[Point], high: Sequence[Point], grain: str = "z", *, under: float = 0.0,
            shine: float = 0.0, pick: int = 0) -> Solid:  # fmt: skip
    """Return a solid between two outlines of as many corners, both anticlockwise seen from above: tapered legs."""
    count = len(low)
    faces = [_face(tuple(high), AXES[grain]), _face(tuple(reversed(low)), AXES[grain])]
    for i in range(count):
        j = (i + 1) % count
        side = _face((low[i], low[j], high[j], high[i]), AXES[grain])
        faces.append(replace(side, under=under, lines=count <= 8))
    return Solid(tuple(faces), stuff, shine, pick=pick)


def slab(stuff: str, outline: Sequence[tuple[float, float]], at: Point, across: Point, up: Point, thick: float,
         grain: Point, *, pick: int = 0, round_edge: bool = False) -> Solid:  # fmt: skip
    """Return an outline given thickness: in the plane of `across` and `up` from `at`, against the plane's normal.

    The outline runs anticlockwise as seen from the side the normal points to: a board with dovetails, a round seat.
    """
    normal = across.cross(up).unit()
    front = [at.plus(across, a).plus(up, b) for a, b in outline]
    back = [point.plus(normal, -thick) for point in front]
    faces = [_face(tuple(front), grain), _face(tuple(reversed(back)), grain)]
    for i in range(len(front)):
        j = (i + 1) % len(front)
        side = _face((front[i], back[i], back[j], front[j]), grain)
        faces.append(replace(side, lines=not round_edge))
    return Solid(tuple(faces), stuff, pick=pick)


def tapered(stuff: str, foot: Sequence[float], top: Sequence[float], thin: float, thick: float, *, sides: int = 4,
            pick: int = 0, under: float = 0.0) -> Solid:  # fmt: skip
    """Return a leg from foot to top, square or turned, thinner at the foot; it may splay."""
    turn = math.pi / sides if sides == 4 else 0.0
    reach = math.sqrt(2) / 2 if sides == 4 else 0.5

    def ring(middle: Sequence[float], across: float) -> list[Point]:
        angles = [turn + math.tau * i / sides for i in range(sides)]
        return [
            Point(middle[0] + across * reach * math.cos(a), middle[1] + across * reach * math.sin(a), middle[2])
            for a in angles
        ]

    return between(stuff, ring(foot, thin), ring(top, thick), "z", pick=pick, under=under)


def moved(solid: Solid, by: Sequence[float]) -> Solid:
    """Return the same solid elsewhere."""
    step = Point(*by)

    def shifted(face: Face) -> Face:
        return replace(face, corners=tuple(corner.plus(step) for corner in face.corners))

    marks = tuple((shifted(face), colour) for face, colour in solid.marks)
    return replace(solid, faces=tuple(map(shifted, solid.faces)), marks=marks)


def marked(solid: Solid, corners: Sequence[Point], colour: tuple[int, int, int]) -> Solid:
    """Return the solid with a flat patch drawn on it: the dark of a mortise, a line of glue, a knob's shadow."""
    return replace(solid, marks=(*solid.marks, (_face(tuple(corners), None), colour)))


def _face(corners: tuple[Point, ...], grain: Point | None) -> Face:
    normal = Point(0, 0, 0)
    for here, following in zip(corners, [*corners[1:], corners[0]], strict=True):  # right for hollow outlines too
        normal = normal.plus(here.minus(corners[0]).cross(following.minus(corners[0])))
    normal = normal.unit()
    along = None
    if grain is not None and abs(normal.dot(grain)) < 0.7:
        along = grain.plus(normal, -normal.dot(grain)).unit()
    return Face(corners, normal, along)


def turned(solid: Solid, degrees: float, about: Sequence[float]) -> Solid:
    """Return the solid turned about an upright line: a door that stands open."""
    angle, x0, y0 = math.radians(degrees), about[0], about[1]

    def spun(point: Point, x: float = 0.0, y: float = 0.0) -> Point:
        dx, dy = point.x - x, point.y - y
        return Point(
            x + dx * math.cos(angle) - dy * math.sin(angle), y + dx * math.sin(angle) + dy * math.cos(angle), point.z
        )

    def faced(face: Face) -> Face:
        corners = tuple(spun(corner, x0, y0) for corner in face.corners)
        along = None if face.along is None else spun(face.along)
        return replace(face, corners=corners, normal=spun(face.normal), along=along)

    marks = tuple((faced(face), colour) for face, colour in solid.marks)
    return replace(solid, faces=tuple(map(faced, solid.faces)), marks=marks)


def rod(stuff: str, begin: Sequence[float], end: Sequence[float], across: float, *, sides: int = 10) -> Solid:
    """Return a round bar from one point to another: a handle, a pencil, a stretcher."""
    first, last = Point(*begin), Point(*end)
    way = last.minus(first).unit()
    aside = way.cross(Z if abs(way.z) < 0.9 else X).unit()
    up = aside.cross(way)

    def ring(middle: Point) -> list[Point]:
        angles = [math.tau * i / sides for i in range(sides)]
        return [middle.plus(aside, across / 2 * math.cos(a)).plus(up, across / 2 * math.sin(a)) for a in angles]

    low, high = ring(first), ring(last)
    faces = [_face(tuple(high[::-1]), way), _face(tuple(low), way)]
    for i in range(sides):
        j = (i + 1) % sides
        faces.append(replace(_face((low[i], high[i], high[j], low[j]), way), lines=False))
    return Solid(tuple(faces), stuff)


def spun(stuff: str, at: Sequence[float], profile: Sequence[tuple[float, float]], *, sides: int = 20) -> list[Solid]:
    """Return a turned thing from its profile, (height, across) from the foot up: a bowl, a vase."""
    x, y, z = at

    def ring(high: float, across: float) -> list[Point]:
        angles = [math.tau * i / sides for i in range(sides)]
        return [Point(x + across / 2 * math.cos(a), y + across / 2 * math.sin(a), z + high) for a in angles]

    rings = [ring(high, across) for high, across in profile]
    return [between(stuff, low, high) for low, high in itertools.pairwise(rings)]
