"""What the woods look like: colours, rings, pores and rays of each, and boards cut from them."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from random import Random

from PIL import Image, ImageChops, ImageOps

from webapp.invented.drawings.noise import Size, dashes, field, grains, looked_up, waves

BOARD: Size = (1152, 512)
STRAIGHT: Size = (1152, 256)
END: Size = (384, 384)
BOARDS = 2  # of each wood; parts are cut from different places of them
PERIOD = 64
Colour = tuple[int, int, int]


@dataclass(frozen=True)
class Wood:
    """Colours from the darkest line to the lightest streak; ring width in pixels; how strongly each thing shows."""

    dark: Colour
    middle: Colour
    light: Colour
    ring: float
    rings: float
    streaks: float
    blotches: float
    pores: float  # share of the surface
    pore_long: float
    ring_porous: bool = False
    rays: float = 0.0
    flow: float = 1.0  # how far the grain wanders


WOODS = {
    "walnut": Wood((58, 36, 24), (112, 76, 52), (158, 116, 84), 26, 0.46, 0.34, 0.30, 0.035, 16, flow=1.5),
    "ash": Wood((160, 124, 84), (216, 188, 146), (238, 219, 186), 30, 0.62, 0.20, 0.12, 0.11, 13, ring_porous=True),
    "cherry": Wood((120, 66, 38), (178, 112, 70), (208, 148, 104), 30, 0.34, 0.34, 0.26, 0.012, 9, rays=0.02),
    "oak": Wood((128, 92, 56), (190, 150, 104), (216, 184, 140), 22, 0.52, 0.26, 0.14, 0.10, 17, ring_porous=True,
                rays=0.05, flow=0.8),
    "maple": Wood((188, 152, 110), (228, 202, 162), (242, 223, 190), 34, 0.30, 0.26, 0.22, 0.008, 7, rays=0.012),
    "elm": Wood((104, 70, 44), (164, 122, 82), (196, 158, 116), 24, 0.60, 0.28, 0.20, 0.10, 12, ring_porous=True,
                flow=1.5),
    "pear": Wood((146, 94, 68), (196, 146, 112), (218, 174, 140), 36, 0.20, 0.28, 0.20, 0.006, 6, rays=0.02),
    "beech": Wood((150, 110, 76), (200, 160, 120), (220, 186, 148), 34, 0.20, 0.30, 0.16, 0.02, 8, rays=0.035),
    "spruce": Wood((178, 132, 82), (224, 190, 142), (238, 214, 174), 15, 0.62, 0.20, 0.10, 0.0, 8),
}  # fmt: skip


def put_away() -> None:
    """Forget all boards: they are large, and soon drawn again."""
    for kept in (board, straight, end):
        kept.cache_clear()


def _pattern(ring_porous: bool) -> list[int]:
    """One ring from pale early wood to dark late wood: ring-porous woods the other way round, with a sharp edge."""
    out = []
    for i in range(PERIOD):
        share = i / PERIOD
        if ring_porous:
            tone = 70 + 150 * min(1.0, (share / 0.34)) if share < 0.34 else 220 - 50 * (share - 0.34)
        else:
            tone = 225 - 60 * share if share < 0.62 else 188 - 140 * ((share - 0.62) / 0.38) ** 1.6
        out.append(round(tone))
    return out


def _early(ring_porous: bool) -> list[int]:
    return [255 if (i / PERIOD < 0.34 or not ring_porous) else 60 for i in range(PERIOD)]


@cache
def board(name: str, seed: int) -> Image.Image:
    """Return the face of a plain-sawn board, grain along x: peaks in the middle, straight grain at both edges."""
    wood, rng = WOODS[name], Random(f"{name} {seed}")
    return _drawn(wood, rng, BOARD, _face_rings(wood, rng))


@cache
def straight(name: str) -> Image.Image:
    """Return straight grain, as makers choose it for legs, rails and edges."""
    wood, rng = WOODS[name], Random(f"{name} straight")
    sway, swell = waves(rng, STRAIGHT[0] * 1.3), waves(rng, STRAIGHT[0] * 0.6)

    def distance(x: float, y: float) -> float:
        return y * 1.7 + 12 * wood.flow * sway(x) + 5 * wood.flow * swell(x + y)

    return _drawn(wood, rng, STRAIGHT, distance)


@cache
def end(name: str) -> Image.Image:
    """Return end grain: rings about a heart that lies below the board, rays out from it."""
    wood, rng = WOODS[name], Random(f"{name} end")
    x0, y0, wander = END[0] * rng.uniform(0.2, 0.8), END[1] * 1.6, waves(rng, 2.4)

    def away(x: float, y: float) -> float:
        angle = math.atan2(x - x0, y0 - y)
        return math.hypot(x - x0, y0 - y) * (1 + 0.02 * wander(angle))

    tone = looked_up(field(END, away), _pattern(wood.ring_porous), wood.ring * 0.5)
    grainy = Image.blend(tone, grains(rng, END, long=1.5, thick=1.5), 0.3)
    return _coloured(wood, grainy.point([round(level * 0.72) for level in range(256)]))


def _face_rings(wood: Wood, rng: Random) -> Callable[[float, float], float]:
    """The distance of each point of the face from the heart: the plane passes the heart at a depth that varies."""
    width, height = BOARD
    middle, depth = height * rng.uniform(0.42, 0.58), height * rng.uniform(0.16, 0.24)
    sway, swell, ripple = waves(rng, width * 1.1), waves(rng, width * 0.55), waves(rng, height * 0.5)
    taper = depth * rng.uniform(0.9, 1.4) / width

    def distance(x: float, y: float) -> float:
        across = y - middle - 26 * wood.flow * sway(x + y * 0.25)
        down = depth + taper * x + 16 * wood.flow * swell(x)
        return math.hypot(across, down) + 3.2 * wood.flow * ripple(y + 0.35 * x)

    return distance


def _drawn(wood: Wood, rng: Random, size: Size, distance: Callable[[float, float], float]) -> Image.Image:
    numbers = field(size, distance)
    tone = looked_up(numbers, _pattern(wood.ring_porous), wood.ring)
    calm = Image.new("L", size, 150)
    tone = Image.blend(calm, tone, wood.rings)
    tone = Image.blend(tone, grains(rng, size, long=90, thick=1.6), wood.streaks * 0.55)
    tone = Image.blend(tone, grains(rng, size, long=220, thick=9), wood.streaks * 0.5)
    tone = Image.blend(tone, grains(rng, size, long=300, thick=110), wood.blotches)
    picture = _coloured(wood, ImageOps.autocontrast(tone, cutoff=1))
    if wood.pores:
        marks = dashes(rng, size, wood.pores * 1.5, long=wood.pore_long, thick=1.4)
        marks = ImageChops.multiply(marks, looked_up(numbers, _early(wood.ring_porous), wood.ring))
        picture = _marked(picture, wood.dark, marks, 0.62)
    if wood.rays:
        flecks = dashes(rng, size, wood.rays, long=22, thick=3)
        picture = _marked(picture, wood.light, flecks, 0.35)
    return picture


def _coloured(wood: Wood, tone: Image.Image) -> Image.Image:
    return ImageOps.colorize(tone, wood.dark, wood.light, wood.middle, midpoint=140)


def _marked(picture: Image.Image, colour: Colour, marks: Image.Image, strength: float) -> Image.Image:
    picture.paste(colour, (0, 0), marks.point([round(level * strength) for level in range(256)]))
    return picture
