"""Pencil on the wood and on the drawing: marks that lie in a plane, dimension lines, and figures written by hand."""

import math
from collections.abc import Iterable, Sequence
from random import Random

from PIL import Image

from webapp.invented.drawings import pencil
from webapp.invented.drawings.space import Camera, Point, Spot

# strokes of a hand that letters plainly, on a field of 4 by 6 with y downwards
STROKES: dict[str, tuple[tuple[Spot, ...], ...]] = {
    "0": (((2, 0), (0.6, 1), (0.2, 3), (0.6, 5), (2, 6), (3.4, 5), (3.8, 3), (3.4, 1), (2, 0)),),
    "1": (((0.8, 1.3), (2.2, 0), (2.2, 6)),),
    "2": (((0.4, 1.4), (1, 0.3), (2.4, 0), (3.6, 0.9), (3.4, 2.4), (0.2, 6), (4, 6)),),
    "3": (((0.5, 0.6), (2, 0), (3.5, 0.8), (3.4, 2.2), (1.8, 2.8), (3.6, 3.6), (3.7, 5.1), (2.2, 6), (0.4, 5.4)),),
    "4": (((3, 6), (3, 0), (0.2, 4.2), (4, 4.2)),),
    "5": (((3.6, 0), (0.9, 0), (0.6, 2.6), (2.4, 2.2), (3.7, 3.2), (3.6, 5), (2.2, 6), (0.4, 5.4)),),
    "6": (((3.2, 0.2), (1.4, 1.2), (0.4, 3.4), (0.8, 5.4), (2.2, 6), (3.5, 5.2), (3.5, 3.8), (2.2, 3), (0.6, 3.9)),),
    "7": (((0.2, 0), (3.8, 0), (1.6, 6)),),
    "8": (((2, 2.8), (0.7, 1.7), (1, 0.4), (2.2, 0), (3.4, 0.6), (3.3, 1.9), (2, 2.8), (0.4, 4), (0.6, 5.4), (2, 6),
           (3.6, 5.3), (3.6, 3.9), (2, 2.8)),),
    "9": (((3.5, 2.2), (2.2, 3.1), (0.8, 2.4), (0.6, 1), (2, 0), (3.4, 0.7), (3.5, 2.4), (3, 4.4), (1.6, 6)),),
    "/": (((3.4, -0.4), (0.6, 6.4)),),
    "A": (((0, 6), (2, 0), (4, 6)), ((0.8, 4), (3.2, 4))),
    "B": (((0.4, 6), (0.4, 0), (2.6, 0.2), (3.3, 1.4), (2.4, 2.7), (0.4, 2.8), (2.8, 3), (3.7, 4.4), (2.7, 5.9),
           (0.4, 6)),),
    "C": (((3.7, 1), (2.4, 0), (0.9, 0.8), (0.2, 3), (0.9, 5.2), (2.4, 6), (3.7, 5)),),
    "D": (((0.4, 6), (0.4, 0), (2.4, 0.3), (3.7, 2), (3.6, 4.2), (2.3, 5.7), (0.4, 6)),),
    "E": (((3.6, 0), (0.4, 0), (0.4, 6), (3.7, 6)), ((0.4, 2.9), (2.9, 2.9))),
    "x": (((0.5, 2.4), (3.5, 6)), ((3.5, 2.4), (0.5, 6))),
    " ": (),
}  # fmt: skip


def lettered(rng: Random, text: str, at: Spot, tall: float) -> list[list[Spot]]:
    """Return the strokes of a text whose middle lies at a spot, in letters so tall."""
    unit = tall / 6
    wide = (len(text) * 5.4 - 1.4) * unit
    strokes = []
    for i, letter in enumerate(text):
        left = at[0] - wide / 2 + i * 5.4 * unit + rng.uniform(-0.25, 0.25) * unit
        top = at[1] - tall / 2 + rng.uniform(-0.2, 0.2) * unit
        for stroke in STROKES[letter]:
            strokes.append([
                (left + (x + rng.uniform(-0.12, 0.12)) * unit, top + (y + rng.uniform(-0.12, 0.12)) * unit)
                for x, y in stroke
            ])  # fmt: skip
    return strokes


class Drawing:
    """Pencil strokes on a whole picture, seen through a camera or laid flat, put on at once."""

    def __init__(self, picture: Image.Image, rng: Random, camera: Camera | None = None) -> None:
        self.picture, self.rng, self.camera = picture, rng, camera
        self.sheet = pencil.Sheet((0, 0, *picture.size))

    def line(self, begin: Spot, end: Spot, *, width: float = 1.5, dark: int = 165, over: float = 0.0) -> None:
        self.sheet.stroke(pencil.waver(self.rng, begin, end, over=over), width, dark)

    def strokes(self, strokes: Iterable[Sequence[Spot]], *, width: float = 1.8, dark: int = 180) -> None:
        for stroke in strokes:
            self.sheet.stroke(stroke, width, dark)

    def on(self, point: Point) -> Spot:
        assert self.camera is not None
        return self.camera.spot(point)

    def scored(self, begin: Point, end: Point, *, width: float = 1.5, dark: int = 165, over: float = 0.0) -> None:
        """A line on the wood."""
        self.line(self.on(begin), self.on(end), width=width, dark=dark, over=over)

    def written(self, text: str, at: Point, across: Point, down: Point, tall: float, **pen: float) -> None:
        """Letters that lie in a plane of the wood; `tall` in mm."""
        flat = lettered(self.rng, text, (0, 0), tall)
        laid = [[self.on(at.plus(across, x).plus(down, y)) for x, y in stroke] for stroke in flat]
        self.strokes(laid, width=pen.get("width", 2.0), dark=int(pen.get("dark", 180)))

    def dimension(self, begin: Spot, end: Spot, text: str, *, tall: float = 22, aside: float = 0.0) -> None:
        """A dimension line with its arrows, its figure beside the middle."""
        (x0, y0), (x1, y1) = begin, end
        length = math.hypot(x1 - x0, y1 - y0) or 1.0
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        half = (len(text) * 0.9 * tall) / 2 + 8 if abs(uy) < 0.5 else tall
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        self.line(begin, (middle[0] - ux * half, middle[1] - uy * half), width=1.1, dark=130)
        self.line((middle[0] + ux * half, middle[1] + uy * half), end, width=1.1, dark=130)
        for (x, y), way in ((begin, 1), (end, -1)):
            for side in (-1, 1):
                tip = (x + way * ux * 13 - side * uy * 4.5, y + way * uy * 13 + side * ux * 4.5)
                self.line((x, y), tip, width=1.2, dark=150)
        self.strokes(lettered(self.rng, text, (middle[0] + aside, middle[1]), tall), width=1.5, dark=165)

    def lay(self) -> Image.Image:
        self.sheet.lay(self.picture)
        return self.picture
