"""Solids drawn on paper: farthest first, each face with its own stretch of grain, shaded, and outlined in pencil."""

import math
from collections.abc import Sequence
from random import Random
from typing import NamedTuple

from PIL import Image, ImageDraw, ImageFilter

from webapp.invented.drawings import pencil, woods
from webapp.invented.drawings.boxes import Box, around, strips
from webapp.invented.drawings.paper import cast
from webapp.invented.drawings.solids import Face, Solid, Z
from webapp.invented.drawings.space import Camera, Point, Spot, homography

LIGHT = Point(-0.45, -0.62, 1.0).unit()  # towards the window: left, in front, above
PLAIN = {
    "iron": (92, 92, 94),
    "steel": (168, 170, 172),
    "brass": (190, 154, 88),
    "felt": (92, 110, 92),
    "linen": (214, 202, 178),
    "glue": (238, 222, 170),
    "cork": (196, 164, 118),
    "paper": (238, 230, 212),
    "tape": (96, 132, 160),
    "sketch": (246, 239, 224),
    "clay": (156, 164, 150),
    "wall": (226, 222, 204),
}
EDGE = 3
SLACK = 0.01
DARKEST = (22, 13, 6)
NARROW = 135  # pixels of board: what is narrower is cut from straight grain


def draw(picture: Image.Image, camera: Camera, solids: Sequence[Solid], rng: Random, *, dense: float = 1.5,
         shadow: int = 92, floor: float | None = 0.0, loose: float = 1.0) -> None:  # fmt: skip
    """Draw solids on the picture. `dense`: pixels of board per pixel of paper, how fine the grain looks."""
    if floor is not None:
        _shadows(picture, camera, solids, floor, shadow)
    for solid in ordered(solids, camera):
        seen = [face for face in solid.faces if _seen(face, camera.eye)]
        for face in seen:
            _draw_face(picture, camera, solid, face, dense)
        _outline(picture, camera, [face for face in seen if face.lines], rng, loose)
        for face, colour in solid.marks:
            if _seen(face, camera.eye):
                _patch(picture, camera, face, colour)


def ordered(solids: Sequence[Solid], camera: Camera) -> list[Solid]:
    """Return the solids so that each is drawn before what hides it."""
    rest = [_Placed(solid, *solid.bounds(), hull([camera.spot(point) for point in solid.points])) for solid in solids]
    behind = {id(b): {id(a) for a in rest if a is not b and _hides(a, b, camera.eye)} for b in rest}
    out: list[Solid] = []
    while rest:
        left = {id(part) for part in rest}
        free = [part for part in rest if not any(id(part) in behind[other] for other in left)]
        first = max(free or rest, key=lambda part: _far(part.low, part.high, camera.eye))
        out.append(first.solid)
        rest.remove(first)
    return out


class _Placed(NamedTuple):
    solid: Solid
    low: Point
    high: Point
    outline: list[Spot]


def _hides(a: _Placed, b: _Placed, eye: Point) -> bool:
    """Whether a hides part of b: on paper they meet, and a plane square to an axis parts them, a on the eye's side."""
    return _nearer(a, b, eye) and not _nearer(b, a, eye) and _meet(a.outline, b.outline)


def _nearer(a: _Placed, b: _Placed, eye: Point) -> bool:
    return any(
        (a.low[axis] >= b.high[axis] - SLACK and eye[axis] > a.low[axis] - SLACK)
        or (a.high[axis] <= b.low[axis] + SLACK and eye[axis] < a.high[axis] + SLACK)
        for axis in range(3)
    )


def _meet(one: Sequence[Spot], two: Sequence[Spot]) -> bool:
    """Whether two outlines overlap: no edge of either has the other wholly on its far side."""
    return not (_parted(one, two) or _parted(two, one))


def _parted(one: Sequence[Spot], two: Sequence[Spot]) -> bool:
    edges = zip(one, [*one[1:], one[0]], strict=True)
    return any(all(_turn(begin, end, spot) <= 0 for spot in two) for begin, end in edges)


def _far(low: Point, high: Point, eye: Point) -> float:
    middle = Point((low.x + high.x) / 2, (low.y + high.y) / 2, (low.z + high.z) / 2).minus(eye)
    return middle.dot(middle)


def _seen(face: Face, eye: Point) -> bool:
    return face.normal.dot(eye.minus(face.corners[0])) > 0


def _shadows(picture: Image.Image, camera: Camera, solids: Sequence[Solid], floor: float, dark: int) -> None:
    thrown, touching = [], []
    for solid in solids:
        outline = [camera.spot(_on_floor(point, floor)) for point in solid.points]
        thrown.append(hull(outline))
        low = [point for point in solid.points if point.z < floor + 30]
        if low:
            touching.append(hull([camera.spot(Point(point.x, point.y, floor)) for point in low]))
    cast(picture, thrown, soft=26, dark=dark)
    cast(picture, touching, soft=9, dark=min(255, dark + 40))


def _on_floor(point: Point, floor: float) -> Point:
    return point.plus(LIGHT, -(point.z - floor) * 0.55 / LIGHT.z)._replace(z=floor)


def hull(spots: Sequence[Spot]) -> list[Spot]:
    """Return the outline around some spots."""
    found = sorted(set(spots))
    if len(found) < 3:
        return [*found, *found, *found][:3]
    lower: list[Spot] = []
    upper: list[Spot] = []
    for chain, run in ((lower, found), (upper, found[::-1])):
        for spot in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], spot) <= 0:
                chain.pop()
            chain.append(spot)
    return lower[:-1] + upper[:-1]


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _draw_face(picture: Image.Image, camera: Camera, solid: Solid, face: Face, dense: float) -> None:
    spots = [camera.spot(corner) for corner in face.corners]
    whole = around(spots, picture.size, 4)
    if whole[2] - whole[0] < 3 or whole[3] - whole[1] < 2:
        return
    in_one = bool(face.under or solid.shine)
    for box in [whole] if in_one else list(strips(spots, whole)):
        skin = _skin(camera, solid, face, box, dense)
        if face.under:
            _shade_top(skin, camera, face, box)
        if solid.shine and face.normal.z > 0.9:
            _glint(skin, solid.shine)
        picture.paste(skin, box[:2], _mask(spots, box))


def _skin(camera: Camera, solid: Solid, face: Face, box: Box, dense: float) -> Image.Image:
    light = _light(face.normal)
    if solid.stuff in PLAIN:
        return Image.new("RGB", (box[2] - box[0], box[3] - box[1]), _toned(PLAIN[solid.stuff], light))
    return _grain(camera, solid, face, box, dense, light * (1 + 0.022 * (solid.pick * 7 % 5 - 2)))


def _light(normal: Point) -> float:
    return 0.66 + 0.42 * max(0.0, normal.dot(LIGHT)) + 0.04 * max(0.0, normal.z)


def _toned(colour: tuple[int, int, int], light: float) -> tuple[int, int, int]:
    return tuple(min(255, round(part * light)) for part in colour)  # type: ignore[return-value]


def _grain(camera: Camera, solid: Solid, face: Face, box: Box, dense: float,
           light: float) -> Image.Image:  # fmt: skip
    along = face.along or _any_in(face.normal)
    across = face.normal.cross(along)
    us = [along.dot(corner) for corner in face.corners]
    vs = [across.dot(corner) for corner in face.corners]
    scale = camera.scale * dense
    length, breadth = (max(us) - min(us)) * scale, (max(vs) - min(vs)) * scale
    board = _board(solid, face, breadth)
    shrink = min(1.0, board.width / max(1.0, length), board.height / max(1.0, breadth))
    place = Random(f"{solid.stuff} {solid.pick} {round(face.normal.x)} {round(face.normal.y)}")
    spare = max(0.0, board.width - length * shrink)
    left = place.uniform(0, spare) if face.lines else (min(us) * scale * shrink) % (spare + 1)  # on a curve: goes on
    top = place.uniform(0, max(0.0, board.height - breadth * shrink))
    plane, paper = [], []
    for u, v in ((min(us), min(vs)), (max(us), min(vs)), (max(us), max(vs)), (min(us), max(vs))):
        point = _on_plane(face, along, across, u, v)
        x, y = camera.spot(point)
        paper.append((x - box[0], y - box[1]))
        plane.append((left + (u - min(us)) * scale * shrink, top + (v - min(vs)) * scale * shrink))
    width, height = box[2] - box[0], box[3] - box[1]
    slant = abs(face.normal.z) > 0.5 and camera.height < camera.away / 2
    fine = 2 if slant else 1  # drawn taller, then pressed, or the lines of the grain break up
    figures = homography(plane, [(x, y * fine) for x, y in paper])
    skin = board.transform((width, height * fine), Image.Transform.PERSPECTIVE, figures, Image.Resampling.BILINEAR)
    skin = skin.reduce((1, fine)) if fine > 1 else skin
    return Image.blend(Image.new("RGB", skin.size, DARKEST), skin, light)


def _board(solid: Solid, face: Face, breadth: float) -> Image.Image:
    if face.along is None:
        return woods.end(solid.stuff)
    return woods.straight(solid.stuff) if breadth < NARROW else woods.board(solid.stuff, solid.pick % woods.BOARDS)


def _any_in(normal: Point) -> Point:
    other = Z if abs(normal.z) < 0.9 else Point(1, 0, 0)
    return other.plus(normal, -normal.dot(other)).unit()


def _on_plane(face: Face, along: Point, across: Point, u: float, v: float) -> Point:
    start = face.corners[0]
    return start.plus(along, u - along.dot(start)).plus(across, v - across.dot(start))


def _shade_top(skin: Image.Image, camera: Camera, face: Face, box: Box) -> None:
    top = max(corner.z for corner in face.corners)
    edge = [corner for corner in face.corners if corner.z > top - 1]
    strip = [*edge, *(corner._replace(z=corner.z - face.under) for corner in reversed(edge))]
    mask = Image.new("L", skin.size)
    spots = [camera.spot(point) for point in strip]
    ImageDraw.Draw(mask).polygon([(x - box[0], y - box[1]) for x, y in spots], fill=130)
    skin.paste((52, 38, 28), (0, 0), mask.filter(ImageFilter.GaussianBlur(max(1.0, face.under * camera.scale * 0.22))))


def _glint(skin: Image.Image, strength: float) -> None:
    """The window's light on an oiled or wet surface: one soft pool, brighter towards the left."""
    width, height = skin.size
    reach = (round(width * 0.9), round(height * 1.3))
    pool = Image.radial_gradient("L").point([round(max(0, 172 - level) * 0.66 * strength) for level in range(256)])
    at = (round(width * -0.12), round(height * -0.18))
    skin.paste((255, 248, 232), (*at, at[0] + reach[0], at[1] + reach[1]), pool.resize(reach, Image.Resampling.BICUBIC))


def _mask(spots: Sequence[Spot], box: Box) -> Image.Image:
    mask = Image.new("L", ((box[2] - box[0]) * EDGE, (box[3] - box[1]) * EDGE))
    fine = [((x - box[0]) * EDGE, (y - box[1]) * EDGE) for x, y in spots]
    ImageDraw.Draw(mask).polygon(fine, fill=255, outline=255)
    return mask.reduce(EDGE)


def _outline(picture: Image.Image, camera: Camera, faces: Sequence[Face], rng: Random, loose: float) -> None:
    if not faces:
        return
    outlines = [[camera.spot(corner) for corner in face.corners] for face in faces]
    sheet = pencil.Sheet(around([spot for spots in outlines for spot in spots], picture.size))
    for spots in outlines:
        for begin, end in zip(spots, [*spots[1:], spots[0]], strict=True):
            long = math.hypot(end[0] - begin[0], end[1] - begin[1])
            over = min(3.0, long * 0.03) * loose
            sheet.stroke(pencil.waver(rng, begin, end, loose=loose, over=over), 1.2, rng.randint(120, 175))
    sheet.lay(picture)


def _patch(picture: Image.Image, camera: Camera, face: Face, colour: tuple[int, int, int]) -> None:
    spots = [camera.spot(corner) for corner in face.corners]
    box = around(spots, picture.size, 4)
    picture.paste(colour, box[:2], _mask(spots, box))
