"""Close to the wood: oil going on, samples of a finish, beads of glue along a joint."""

import math
from collections.abc import Sequence
from random import Random

from PIL import Image, ImageChops, ImageDraw, ImageEnhance, ImageFilter

from webapp.invented.drawings import pencil, render, views
from webapp.invented.drawings.boxes import around
from webapp.invented.drawings.lines import Drawing
from webapp.invented.drawings.noise import waves
from webapp.invented.drawings.solids import Solid, box, slab, spun
from webapp.invented.drawings.space import Camera, Point

X, Y, Z = Point(1, 0, 0), Point(0, 1, 0), Point(0, 0, 1)
THICK = 24.0


def oiled(rng: Random, wood: str, *, share: float = 0.58, long: float = 900, deep: float = 400) -> Image.Image:
    """A top with oil on part of it, the pad still lying there."""
    camera = views.close(views.WIDE, -18, 1.1, height=1150, away=1500, middle=0.52)
    picture = views.on_bench(rng, views.WIDE, camera)
    render.draw(picture, camera, [box(wood, (-long / 2, -deep / 2, 0), (long, deep, THICK), "x", pick=1)], rng,
                dense=1.2, shadow=120)  # fmt: skip
    edge = waves(rng, deep * 0.7)
    steps = [(-deep / 2) + deep * i / 30 for i in range(31)]
    outline = [(-long / 2, -deep / 2), (-long / 2, deep / 2)]
    outline += [(-long / 2 + long * share + 26 * edge(y), y) for y in reversed(steps)]
    _wetted(picture, camera, outline, gloss=1.0)
    at = -long / 2 + long * share + 40
    jar = spun("clay", (long / 2 - 60, 330, 0), ((0, 96), (70, 104), (92, 90), (110, 94)), sides=28)
    render.draw(picture, camera, [*_cloth(rng, at, -30), *jar], rng, shadow=80, floor=THICK, loose=1.6)
    return picture


def _wetted(picture: Image.Image, camera: Camera, outline: Sequence[tuple[float, float]], *, gloss: float,
            deeper: float = 0.84) -> None:  # fmt: skip
    """Make part of the top face wet: deeper in colour, a pool of light on it."""
    spots = [camera.spot(Point(x, y, THICK)) for x, y in outline]
    box = around(spots, picture.size, 10)
    dry = picture.crop(box)
    wet = ImageEnhance.Brightness(ImageEnhance.Color(dry).enhance(1.35)).enhance(deeper)
    mask = Image.new("L", dry.size)
    ImageDraw.Draw(mask).polygon([(x - box[0], y - box[1]) for x, y in spots], fill=255)
    mask = mask.filter(ImageFilter.GaussianBlur(3))
    picture.paste(wet, box[:2], mask)
    pool = Image.radial_gradient("L").resize(dry.size, Image.Resampling.BICUBIC)
    pool = pool.point([round(max(0, 150 - level) * 0.7 * gloss) for level in range(256)])
    picture.paste((255, 250, 238), box[:2], ImageChops.multiply(pool, mask))


def _cloth(rng: Random, x: float, y: float) -> list[Solid]:
    """A folded cloth: two uneven layers."""
    layers = []
    for i, reach in enumerate((78.0, 60.0)):
        edge = waves(rng, math.tau / 4)
        angles = [math.tau * step / 40 for step in range(40)]
        spots = [
            (x + reach * (1 + 0.13 * edge(a)) * math.cos(a), y + 0.7 * reach * (1 + 0.13 * edge(a)) * math.sin(a))
            for a in angles
        ]
        layers.append(slab("linen", spots, Point(0, 0, THICK + 14 * (i + 1)), X, Y, 14, X, round_edge=True))
    return layers


def samples(rng: Random, wood: str) -> Image.Image:
    """One board with three fields of finish and bare wood between, numbered."""
    camera = views.close(views.WIDE, -12, 1.2, height=1250, away=1500, middle=0.5)
    picture = views.on_bench(rng, views.WIDE, camera)
    long, deep = 800.0, 260.0
    render.draw(picture, camera, [box(wood, (-long / 2, -deep / 2, 0), (long, deep, THICK), "x", pick=1)], rng,
                dense=1.2, shadow=120)  # fmt: skip
    fields = ((-360, 0.96, 0.0), (-110, 0.86, 0.45), (140, 0.76, 1.0))
    for left, deeper, gloss in fields:
        outline = [(left, -deep / 2 + 24), (left + 210, -deep / 2 + 24), (left + 210, deep / 2), (left, deep / 2)]
        _wetted(picture, camera, outline, gloss=gloss * 0.8, deeper=deeper)
    drawing = Drawing(picture, rng, camera)
    for number, (left, _, _) in enumerate(fields, 1):
        for x in (left, left + 210):
            drawing.scored(Point(x, -deep / 2 + 12, THICK), Point(x, deep / 2, THICK), dark=150, over=3)
        drawing.written(str(number), Point(left + 105, -deep / 2 + 12, THICK), X, Point(0, -1, 0), 17, width=1.8)
    return drawing.lay()


def beads(rng: Random, wood: str) -> Image.Image:
    """Squeeze-out: beads of glue in a row along two joints, even all the way."""
    camera = views.close(views.WIDE, -30, 1.9, height=700, away=1200, middle=0.5)
    picture = views.on_bench(rng, views.WIDE, camera)
    solids = [box(wood, (-420, -210 + 140 * i, 0), (840, 139.4, THICK), "x", pick=i * 2) for i in range(3)]
    render.draw(picture, camera, solids, rng, dense=0.9, shadow=120)
    for colour, across, up in (((96, 58, 34), 1.25, -1.5), ((228, 204, 142), 1.0, 0.0), ((252, 242, 210), 0.4, 2.5)):
        _bead_row(picture, Random(len(wood)), camera, colour, across, up)
    return picture


def _bead_row(picture: Image.Image, rng: Random, camera: Camera, colour: tuple[int, int, int], across: float,
              up: float) -> None:  # fmt: skip
    """One layer of every bead: its shadow, its body, its glint."""
    sheet = pencil.Sheet((0, 0, *picture.size))
    for joint in (-70.0, 70.0):
        x = -410.0
        while x < 410:
            reach = rng.uniform(3, 6) * across
            ring = [math.tau * i / 12 for i in range(12)]
            edge = [Point(x + reach * math.cos(a), joint + reach * math.sin(a), THICK + up) for a in ring]
            sheet.fill([camera.spot(point) for point in edge])
            x += rng.uniform(9, 24)
    sheet.lay(picture, colour)
