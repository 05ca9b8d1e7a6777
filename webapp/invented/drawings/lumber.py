"""Wood before it is a piece: stacks in stickers, boards laid out, panels in clamps, parts in rows."""

from random import Random

from PIL import Image

from webapp.invented.drawings import clamps, render, views
from webapp.invented.drawings.lines import Drawing
from webapp.invented.drawings.noise import waves
from webapp.invented.drawings.solids import Solid, box, rod, slab
from webapp.invented.drawings.space import Point

X, Y, Z = Point(1, 0, 0), Point(0, 1, 0), Point(0, 0, 1)


def stack(rng: Random, wood: str, *, layers: int = 3, waney: bool = False) -> Image.Image:
    """Boards as they came from the yard, in stickers."""
    solids: list[Solid] = []
    z = 0.0
    for layer in range(layers):
        solids += [box("spruce", (x, -230, z), (34, 440, 24), "y", pick=layer) for x in (-560, -60, 440)]
        z += 24
        y = -224.0 + rng.uniform(0, 10)
        for wide in (rng.uniform(126, 142) for _ in range(3)):
            at, long = (-640 + rng.uniform(-50, 30), y, z), 1260 + rng.uniform(-60, 30)
            number = len(solids)
            solids.append(_waney(rng, wood, at, long, wide, number) if waney else box(wood, at, (long, wide, 34), "x",
                                                                                      pick=number))  # fmt: skip
            y += wide + rng.uniform(12, 20)
        z += 34
    camera = views.standing(views.WIDE, -34, 0.78, 120, middle=0.55)
    picture = views.on_paper(rng, views.WIDE, rng.randrange(4))
    render.draw(picture, camera, solids, rng, dense=1.9, loose=1.3)
    return picture


def _waney(rng: Random, wood: str, at: tuple[float, float, float], long: float, wide: float, pick: int) -> Solid:
    near, far = waves(rng, long * 0.6), waves(rng, long * 0.6)
    steps = 14
    front = [(long * i / steps, 9 * near(long * i / steps)) for i in range(steps + 1)]
    behind = [(long * i / steps, wide + 9 * far(long * i / steps)) for i in range(steps, -1, -1)]
    return slab(wood, [*front, *behind], Point(at[0], at[1], at[2] + 34), X, Y, 34, X, pick=pick, round_edge=True)


def layout(rng: Random, wood: str, boards: int, *, long: float = 900, deep: float = 380) -> Image.Image:
    """The boards of a top laid side by side, with the triangle that keeps their order, and their letters."""
    camera = views.close(views.WIDE, -14, 1.12, height=1250, away=1500)
    picture = views.on_bench(rng, views.WIDE, camera)
    wide = deep / boards
    solids = []
    for i in range(boards):
        shift = rng.uniform(-16, 16)
        solids.append(box(wood, (-long / 2 + shift, -deep / 2 + i * (wide + 1.5), 0), (long, wide, 24), "x", pick=i))
    render.draw(picture, camera, solids, rng, dense=1.3, shadow=110)
    drawing = Drawing(picture, rng, camera)
    low, tip = -deep / 2 + 26, deep / 2 - 18
    corners = [Point(-150, low, 24), Point(150, low, 24), Point(0, tip, 24)]
    for begin, end in zip(corners, [*corners[1:], corners[0]], strict=True):
        drawing.scored(begin, end, width=2.6, dark=185, over=5)
    for i in range(boards):
        middle = Point(-long / 2 + 90, -deep / 2 + (i + 0.5) * wide, 24)
        drawing.written("ABCDE"[i], middle, X, Point(0, -1, 0), 34, width=2.4)
    return drawing.lay()


def panel(rng: Random, wood: str, boards: int, *, long: float = 880, deep: float = 400, count: int = 3) -> Image.Image:
    """A panel in clamps, two over and the rest under, with beads of glue along the joints."""
    camera = views.close(views.WIDE, -24, 0.98, height=1100, away=1500, middle=0.50)
    picture = views.on_bench(rng, views.WIDE, camera)
    wide, z = deep / boards, 60.0
    solids = [box(wood, (-long / 2, -deep / 2 + i * wide, z), (long, wide, 24), "x", pick=i) for i in range(boards)]
    solids += [
        box("spruce", (-long / 2 - 20, y, z - 4), (long + 40, 34, 32), "x", pick=3) for y in (-deep / 2 - 34, deep / 2)
    ]
    for i in range(count):
        x = (i - (count - 1) / 2) * long / count
        solids += clamps.across(x, -deep / 2 - 34, deep / 2 + 34, z, under=i % 2 == 1)
    render.draw(picture, camera, solids, rng, dense=1.3, shadow=120)
    return picture


def frame(rng: Random, wood: str, *, wide: float = 460, long: float = 620) -> Image.Image:
    """A door in clamps: frame about its panel, two clamps over the rails."""
    camera = views.close(views.WIDE, -26, 1.15, height=1100, away=1500, middle=0.52)
    picture = views.on_bench(rng, views.WIDE, camera)
    stile, z, thick = 56.0, 34.0, 22.0
    x, y = long / 2, wide / 2
    solids = [
        box(wood, (-x, -y, z), (long, stile, thick), "x", pick=1),
        box(wood, (-x, y - stile, z), (long, stile, thick), "x", pick=2),
        box(wood, (-x, -y + stile, z), (stile, wide - 2 * stile, thick), "y", pick=3),
        box(wood, (x - stile, -y + stile, z), (stile, wide - 2 * stile, thick), "y", pick=4),
        box(wood, (-x + stile, -y + stile, z), (long - 2 * stile, wide - 2 * stile, 10), "x", pick=5),
        *(box("spruce", (side, -y - 20, 0), (40, wide + 40, z), "y", pick=1) for side in (-x + 60, x - 100)),
    ]
    for side in (-x + 26, x - 26):
        solids += clamps.across(side, -y, y, z)
    render.draw(picture, camera, solids, rng, dense=1.2, shadow=120)
    return picture


def rows(rng: Random, wood: str, sizes: tuple[tuple[float, float, float], ...], *, letters: bool = True) -> Image.Image:
    """Milled parts side by side on the bench, each with its letter."""
    camera = views.close(views.WIDE, -20, 1.02, height=1100, away=1500)
    picture = views.on_bench(rng, views.WIDE, camera)
    whole = sum(wide + 24 for _, wide, _ in sizes)
    y, solids, tops = -whole / 2, [], []
    for i, (long, wide, thick) in enumerate(sizes):
        left = -long / 2 + rng.uniform(-20, 20)
        solids.append(box(wood, (left, y, 0), (long, wide, thick), "x", pick=i))
        tops.append(Point(left + 60, y + wide / 2, thick))
        y += wide + 24
    render.draw(picture, camera, solids, rng, dense=1.4, shadow=115)
    drawing = Drawing(picture, rng, camera)
    for i, top in enumerate(tops if letters else ()):
        drawing.written("ABCDE"[i % 5], top, X, Point(0, -1, 0), 28, width=2.2)
    return drawing.lay()


def pencil_lying(x: float, y: float, z: float) -> list[Solid]:
    return [rod("brass", (x, y, z + 4), (x + 150, y + 46, z + 4), 8, sides=6),
            rod("iron", (x - 14, y - 4, z + 4), (x, y, z + 4), 3, sides=6)]  # fmt: skip
