"""Where we stand to look: cameras, and the two grounds of a picture, a sheet of paper and the top of the bench."""

from dataclasses import replace
from random import Random

from PIL import Image, ImageDraw, ImageFilter

from webapp.invented.drawings import paper, render
from webapp.invented.drawings.noise import Size
from webapp.invented.drawings.solids import box
from webapp.invented.drawings.space import Camera

WIDE: Size = (1120, 840)
TALL: Size = (840, 1120)
SHARE = WIDE[0] / 1280  # scales are written for a sheet 1280 pixels wide
SOFT = 3  # a ground is drawn so many times smaller than what lies on it


def standing(size: Size, turned: float, scale: float, look: float, *, middle: float = 0.52) -> Camera:
    """Return the view of somebody who stands in front of a piece."""
    return Camera(turned, 4200, 1500, scale * SHARE, (size[0] / 2, size[1] * middle), look)


def close(size: Size, turned: float, scale: float, *, height: float = 900, away: float = 1300,
          middle: float = 0.55) -> Camera:  # fmt: skip
    """Return the view of somebody who bends over the bench; `scale` is pixels per mm."""
    return Camera(turned, away, height, scale * SHARE, (size[0] / 2, size[1] * middle), 0)


def on_paper(rng: Random, size: Size, wash: int, *, horizon: float = 0.66) -> Image.Image:
    return paper.sheet(rng, size, paper.WASHES[wash % len(paper.WASHES)], horizon=horizon)


def on_bench(rng: Random, size: Size, camera: Camera) -> Image.Image:
    """Return paper with the bench top washed in, softer than what will lie on it and fading out to the edges."""
    ground = paper.sheet(rng, size)
    small = (size[0] // SOFT, size[1] // SOFT)
    half = _smaller(camera)
    bench = Image.new("RGB", small, paper.PAPER)
    planks = [box("beech", (-1600, -700 + 280 * i, -70), (3200, 278, 70), "x", pick=i) for i in range(5)]
    render.draw(bench, half, planks, rng, dense=3.2, floor=None)
    bench = Image.blend(bench, Image.new("RGB", small, (222, 200, 168)), 0.5)
    bench.paste((110, 84, 58), (0, 0), paper.corners(small).point([level // 4 for level in range(256)]))
    ground.paste(bench.resize(size, Image.Resampling.BICUBIC), (0, 0), _vignette(rng, size))
    return ground


def in_room(rng: Random, size: Size, camera: Camera, wall: float) -> Image.Image:
    """Return paper with a corner of a room washed in: a floor of boards up to a plain wall at y = `wall`."""
    ground = paper.sheet(rng, size)
    small = (size[0] // SOFT, size[1] // SOFT)
    half = _smaller(camera)
    room = Image.new("RGB", small, (226, 223, 206))
    floor = [box("spruce", (-2600, wall - 150 * (i + 1), -20), (5200, 149, 20), "x", pick=i) for i in range(14)]
    skirting = box("wall", (-2600, wall - 14, 0), (5200, 14, 90), "x")
    render.draw(room, half, [*floor, skirting], rng, dense=2.4, floor=None)
    room = Image.blend(room, Image.new("RGB", small, (226, 212, 186)), 0.45)
    ground.paste(room.resize(size, Image.Resampling.BICUBIC), (0, 0), _vignette(rng, size))
    return ground


def _smaller(camera: Camera) -> Camera:
    return replace(camera, scale=camera.scale / SOFT, middle=(camera.middle[0] / SOFT, camera.middle[1] / SOFT))


def _vignette(rng: Random, size: Size) -> Image.Image:
    part = 8
    width, height = size[0] // part, size[1] // part
    mask = Image.new("L", (width, height))
    draw = ImageDraw.Draw(mask)
    for row in range(3, height - 3, 2):
        fringe = 5 + 9 * abs(row / height - 0.5) ** 2 * 4
        left, right = fringe * rng.uniform(0.5, 1.5), width - fringe * rng.uniform(0.5, 1.5)
        draw.rectangle((left, row, right, row + 1), fill=255)
    return mask.filter(ImageFilter.GaussianBlur(1.6)).resize(size, Image.Resampling.BICUBIC)
