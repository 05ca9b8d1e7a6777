"""What a picture lies on: unbleached paper with a wash of colour, or the top of a bench."""

import math
from functools import lru_cache
from random import Random

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from webapp.invented.drawings.boxes import around
from webapp.invented.drawings.noise import Size, grains

PAPER = (244, 237, 222)
SHADE = (74, 58, 44)
Colour = tuple[int, int, int]
WASHES: tuple[Colour, ...] = ((214, 206, 180), (206, 208, 190), (222, 204, 178), (204, 206, 200))


def sheet(rng: Random, size: Size, wash: Colour | None = None, *, horizon: float = 0.66) -> Image.Image:
    """Return a sheet of paper, slightly rough, darker towards its corners, with a wash of colour where asked for."""
    picture = _blank(size).copy()
    if wash:
        _washed(picture, rng, wash, horizon)
    return picture


@lru_cache(maxsize=2)
def _blank(size: Size) -> Image.Image:
    picture = Image.new("RGB", size, PAPER)
    rng = Random(1)
    rough = Image.blend(grains(rng, size, long=2, thick=2), grains(rng, size, long=9, thick=7), 0.4)
    tooth = rough.point([max(0, (level - 120) // 4) for level in range(256)])
    picture.paste((226, 214, 192), (0, 0), tooth)
    picture.paste((150, 128, 98), (0, 0), corners(size).point([level // 5 for level in range(256)]))
    return picture


@lru_cache(maxsize=4)
def corners(size: Size) -> Image.Image:
    """Return a mask that grows from the middle of a picture to its corners."""
    radial = Image.radial_gradient("L").crop((24, 24, 232, 232)).resize(size, Image.Resampling.BICUBIC)
    return radial.point([max(0, level - 80) for level in range(256)])


def _washed(picture: Image.Image, rng: Random, wash: Colour, horizon: float) -> None:
    """A pool of watercolour: uneven edge, a darker rim where it dried last."""
    width, height = picture.size
    small = (width // 4, height // 4)
    bulges = [(turns, rng.uniform(0.2, 1) / turns, rng.uniform(0, math.tau)) for turns in (2, 3, 5, 7)]
    middle = (small[0] * rng.uniform(0.47, 0.53), small[1] * horizon * rng.uniform(0.82, 0.9))
    reach = (small[0] * 0.44, small[1] * 0.40)
    outline = []
    for i in range(96):
        angle = math.tau * i / 96
        far = 1 + 0.1 * sum(share * math.sin(turns * angle + begin) for turns, share, begin in bulges)
        outline.append((middle[0] + reach[0] * far * math.cos(angle), middle[1] + reach[1] * far * math.sin(angle)))
    pool = Image.new("L", small)
    ImageDraw.Draw(pool).polygon(outline, fill=255)
    pool = pool.filter(ImageFilter.GaussianBlur(1.2))
    rim = ImageChops.subtract(pool, pool.filter(ImageFilter.GaussianBlur(9)))
    clouds = grains(rng, small, long=60, thick=40).point([150 + level // 3 for level in range(256)])
    strength = ImageChops.add(ImageChops.multiply(pool, clouds).point([level // 2 for level in range(256)]), rim)
    picture.paste(wash, (0, 0), strength.resize(picture.size, Image.Resampling.BICUBIC))


def cast(picture: Image.Image, outlines: list[list[tuple[float, float]]], *, soft: float, dark: int,
         colour: Colour = SHADE) -> None:  # fmt: skip
    """Lay a soft shadow of these outlines on the picture."""
    if not outlines:
        return
    part = 4
    left, top, right, low = around([spot for outline in outlines for spot in outline], picture.size, round(soft * 3))
    mask = Image.new("L", (-(-(right - left) // part), -(-(low - top) // part)))
    draw = ImageDraw.Draw(mask)
    for outline in outlines:
        draw.polygon([((x - left) / part, (y - top) / part) for x, y in outline], fill=dark)
    mask = mask.filter(ImageFilter.GaussianBlur(soft / part))
    picture.paste(colour, (left, top), mask.resize((right - left, low - top), Image.Resampling.BICUBIC))
