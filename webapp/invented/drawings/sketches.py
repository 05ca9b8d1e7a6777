"""Sketches for a client: the piece in pencil with a little tone, and its three dimensions."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from PIL import Image

from webapp.invented.drawings import paper, render, views
from webapp.invented.drawings.lines import Drawing
from webapp.invented.drawings.solids import Solid
from webapp.invented.drawings.space import Point

MM_PER_INCH = 25.4


def figure(millimetres: float, unit: str) -> str:
    """Return a length as a maker writes it on a drawing, to the quarter inch or the millimetre.

    >>> figure(1100, "mm"), figure(1100, "in"), figure(254, "in")
    ('1100', '43 1/4', '10')
    """
    if unit == "mm":
        return str(round(millimetres))
    quarters = round(millimetres / MM_PER_INCH * 4)
    whole, rest = divmod(quarters, 4)
    return f"{whole} {('', '1/4', '1/2', '3/4')[rest]}".strip()


@dataclass(frozen=True)
class Sketch:
    """Which piece, and how it is looked at."""

    piece: Callable[[], Sequence[Solid]]
    turned: float
    scale: float
    look: float


def sketch(rng: Random, unit: str, of: Sketch) -> Image.Image:
    """Draw a piece without colour, with its width, depth and height."""
    solids, camera = of.piece(), views.standing(views.WIDE, of.turned, of.scale, of.look)
    picture = paper.sheet(rng, views.WIDE)
    plain = [replace(solid, stuff="sketch", shine=0.0) for solid in solids]
    for _ in range(2):  # a hand goes over its lines twice
        render.draw(picture, camera, plain, rng, shadow=26, loose=2.4)
    drawing = Drawing(picture, rng, camera)
    low = Point(*(min(solid.bounds()[0][i] for solid in solids) for i in range(3)))
    high = Point(*(max(solid.bounds()[1][i] for solid in solids) for i in range(3)))
    out = 110 / camera.scale * 0.6
    spot = drawing.on
    front, side = low.y - out, high.x + out
    drawing.dimension(spot(Point(low.x, front, 0)), spot(Point(high.x, front, 0)), figure(high.x - low.x, unit))
    drawing.dimension(spot(Point(side, low.y, 0)), spot(Point(side, high.y, 0)), figure(high.y - low.y, unit))
    left = low.x - out * 1.2
    drawing.dimension(spot(Point(left, low.y, 0)), spot(Point(left, low.y, high.z)), figure(high.z - low.z, unit))
    for begin, end in (
        (Point(low.x, low.y, 0), Point(low.x, front - 20, 0)),
        (Point(high.x, low.y, 0), Point(high.x, front - 20, 0)),
        (Point(high.x, low.y, 0), Point(side + 20, low.y, 0)),
        (Point(high.x, high.y, 0), Point(side + 20, high.y, 0)),
        (Point(low.x, low.y, high.z), Point(left - 20, low.y, high.z)),
        (Point(low.x, low.y, 0), Point(left - 20, low.y, 0)),
    ):
        drawing.scored(begin, end, width=0.9, dark=80)
    return drawing.lay()
