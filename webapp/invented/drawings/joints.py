"""Joints, drawn apart so that one sees how they go together."""

from random import Random

from PIL import Image

from webapp.invented.drawings import render, views
from webapp.invented.drawings.lines import Drawing
from webapp.invented.drawings.lumber import pencil_lying
from webapp.invented.drawings.solids import Solid, box, marked, slab
from webapp.invented.drawings.space import Point

X, Y, Z = Point(1, 0, 0), Point(0, 1, 0), Point(0, 0, 1)
DARK = (58, 42, 30)


def tenon(rng: Random, wood: str) -> Image.Image:
    """A rail with its tenon in front of the mortised leg."""
    camera = views.close(views.WIDE, -38, 1.95, height=620, away=1150, middle=0.66)
    picture = views.on_bench(rng, views.WIDE, camera)
    leg = box(wood, (-230, -24, 0), (460, 48, 48), "x", pick=1)
    leg = marked(leg, [Point(70, -16 + 8, 48), Point(150, -16 + 8, 48), Point(150, 10, 48), Point(70, 10, 48)], DARK)
    rail = [
        box(wood, (66, -10, 122), (88, 22, 120), "z", pick=4),
        box(wood, (70, -7, 86), (80, 16, 36), "z", pick=4),
    ]
    shaving = box(wood, (-200, 90, 0), (70, 20, 6), "x", pick=2)
    render.draw(picture, camera, [leg, *rail, shaving], rng, dense=1.0, shadow=110)
    drawing = Drawing(picture, rng, camera)
    for x in (70, 150):
        drawing.scored(Point(x, -24, 48), Point(x, 24, 48), dark=150, over=3)
    drawing.written("A", Point(-40, 0, 48), X, Point(0, -1, 0), 22)
    return drawing.lay()


def tails(wide: float, count: int, deep: float) -> list[tuple[float, float]]:
    """Return the outline of a board end with dovetails, from (0, 0) up its width: (out, along)."""
    step = wide / count
    slope, half = deep / 6, step * 0.30
    spots: list[tuple[float, float]] = []
    for i in range(count):
        middle = (i + 0.5) * step
        spots += [(0, middle - half), (deep, middle - half - slope), (deep, middle + half + slope), (0, middle + half)]
    return spots


def dovetails(rng: Random, wood: str, *, count: int = 4) -> Image.Image:
    """A corner in dovetails, a little way apart."""
    camera = views.close(views.WIDE, -36, 2.25, height=560, away=1150, middle=0.66)
    picture = views.on_bench(rng, views.WIDE, camera)
    high, thick, long = 150.0, 16.0, 210.0
    gap = 46.0
    spots = [(long + out, up) for out, up in tails(high, count, thick)]
    board = [(0.0, 0.0), (long, 0.0), *spots, (long, high), (0.0, high)]
    front = slab(wood, board, Point(-260, -90, 0), X, Z, thick, X, pick=1)
    solids: list[Solid] = [front, *_pins(wood, Point(-260 + long + gap, -90, 0), high, thick, count)]
    solids += pencil_lying(-120, -210, 0)
    render.draw(picture, camera, solids, rng, dense=0.9, shadow=115)
    return picture


def _pins(wood: str, at: Point, high: float, thick: float, count: int) -> list[Solid]:
    """The board with pins: sockets lie between them, as the tails leave them."""
    step, slope, half = high / count, thick / 6, high / count * 0.30
    body = box(wood, (at.x, at.y + thick, at.z), (thick, 190, high), "y", pick=3)
    edges = [0.0]
    for i in range(count):
        middle = (i + 0.5) * step
        edges += [middle - half, middle + half]
    edges.append(high)
    pins = []
    for low, top in zip(edges[::2], edges[1::2], strict=True):
        outer_low = low if low == 0 else low + slope
        outer_top = top if top == high else top - slope
        outline = [(0.0, low), (thick, outer_low), (thick, outer_top), (0.0, top)]
        pins.append(slab(wood, outline, Point(at.x, at.y, at.z), X, Z, thick, Y, pick=3))
    return [body, *pins]
