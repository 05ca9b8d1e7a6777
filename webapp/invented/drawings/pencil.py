"""A pencil: lines that waver a little, drawn three times as large and made small again so that they are soft."""

import math
from collections.abc import Sequence
from random import Random

from PIL import Image, ImageDraw

from webapp.invented.drawings.space import Spot

FINE = 2
GRAPHITE = (62, 54, 48)


def waver(rng: Random, begin: Spot, end: Spot, *, loose: float = 1.0, over: float = 0.0) -> list[Spot]:
    """Return a line as a hand draws it: a slight bow, and a little past both ends."""
    (x0, y0), (x1, y1) = begin, end
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    bow, tremble = rng.uniform(-1, 1) * loose * min(1.6, length / 160), 0.35 * loose
    out = []
    steps = max(2, round(length / 40))
    for i in range(steps + 1):
        share = i / steps
        along = -over + share * (length + 2 * over)
        aside = bow * math.sin(math.pi * share) + rng.uniform(-tremble, tremble)
        out.append((x0 + ux * along - uy * aside, y0 + uy * along + ux * aside))
    return out


class Sheet:
    """A mask over part of a picture for pencil strokes; `lay` puts it on in one colour."""

    def __init__(self, box: tuple[int, int, int, int]) -> None:
        self.box = box
        self.mask = Image.new("L", ((box[2] - box[0]) * FINE, (box[3] - box[1]) * FINE))
        self.draw = ImageDraw.Draw(self.mask)

    def stroke(self, spots: Sequence[Spot], width: float = 1.2, dark: int = 170) -> None:
        fine = [self._fine(spot) for spot in spots]
        self.draw.line(fine, fill=dark, width=max(1, round(width * FINE)), joint="curve")

    def fill(self, spots: Sequence[Spot], dark: int = 255) -> None:
        self.draw.polygon([self._fine(spot) for spot in spots], fill=dark)

    def lay(self, picture: Image.Image, colour: tuple[int, int, int] = GRAPHITE) -> None:
        picture.paste(colour, self.box[:2], self.mask.reduce(FINE))

    def _fine(self, spot: Spot) -> Spot:
        return (spot[0] - self.box[0]) * FINE, (spot[1] - self.box[1]) * FINE
