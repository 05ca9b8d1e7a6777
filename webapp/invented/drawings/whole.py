"""Pieces seen whole: on paper, in a room, on a wall, or half made in clamps."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace
from random import Random

from PIL import Image

from webapp.invented.drawings import cases, clamps, paper, render, tables, views
from webapp.invented.drawings.lines import Drawing
from webapp.invented.drawings.lumber import pencil_lying
from webapp.invented.drawings.noise import Size
from webapp.invented.drawings.solids import Solid, box, moved, spun
from webapp.invented.drawings.space import Camera, Point

VASE = ((0, 70), (30, 100), (60, 120), (100, 122), (130, 108), (160, 74), (185, 50), (205, 64))
BOWL = ((0, 90), (12, 150), (40, 210), (62, 232))


def piece(rng: Random, solids: Sequence[Solid], camera: Camera, *, wash: int = 0, size: Size = views.WIDE,
          dense: float = 2.2) -> Image.Image:  # fmt: skip
    """Draw a piece that stands on paper."""
    picture = views.on_paper(rng, size, wash)
    render.draw(picture, camera, solids, rng, dense=dense)
    return picture


def hall_table_in_its_place(rng: Random) -> Image.Image:
    camera = views.standing(views.WIDE, -24, 0.68, 470, middle=0.56)
    picture = views.in_room(rng, views.WIDE, camera, 205)
    things = [*tables.hall_table(), *spun("clay", (-330, 0, 780), VASE, sides=28)]
    render.draw(picture, camera, things, rng, dense=2.2)
    return picture


def cabinet_on_the_wall(rng: Random, *, opened: float = 0.0) -> Image.Image:
    """The wall is the paper; the cabinet throws its shadow on it, down and to the right."""
    camera = views.standing(views.WIDE, -24, 1.12, 320, middle=0.5)
    camera = replace(camera, height=900, middle=(views.WIDE[0] * (0.55 if opened else 0.5), views.WIDE[1] * 0.51))
    picture = views.on_paper(rng, views.WIDE, 1, horizon=0.6)
    solids = cases.wall_cabinet(opened=opened)
    wall = [camera.spot(Point(x, 105, z)) for x, z in ((-230, 0), (230, 0), (230, 620), (-230, 620))]
    thrown = [(x + 46, y + 40) for x, y in wall]
    paper.cast(picture, [thrown], soft=30, dark=105)
    inside = [
        *spun("clay", (-90, -10, 18), ((0, 70), (50, 96), (90, 80), (100, 86)), sides=24),
        *spun("linen", (70, -20, 218), ((0, 60), (24, 110), (44, 130)), sides=24),
    ]
    render.draw(picture, camera, [*solids, *(inside if opened else [])], rng, dense=1.7, floor=None)
    return picture


def base_in_clamps(rng: Random) -> Image.Image:
    """The desk's legs and aprons, pulled together by long clamps front and back."""
    camera = views.standing(views.WIDE, -28, 0.64, 400, middle=0.53)
    solids = tables.base(tables.CHERRY, 1240, 600, 716, apron=110, leg=48, foot=28, under=0)
    for y in (-258.0, 258.0):
        solids += clamps.along(y - 24, -602, 602, 664, reach=46)
    return piece(rng, solids, camera, wash=2)


def base_dry(rng: Random) -> Image.Image:
    """The hall table without its top, put together dry."""
    return piece(rng, tables.hall_table(top=False), views.standing(views.WIDE, -30, 0.7, 400), wash=0)


def stools(rng: Random) -> Image.Image:
    places = (((-330, 60), 0), ((110, -140), 3), ((400, 260), 5))
    solids = [part for at, pick in places for part in tables.stool(at, pick=pick)]
    return piece(rng, solids, views.standing(views.WIDE, -20, 0.92, 230), wash=0)


def stool(rng: Random) -> Image.Image:
    camera = views.standing(views.TALL, -24, 1.7, 240)
    return piece(rng, tables.stool(pick=3), camera, wash=3, size=views.TALL, dense=1.5)


def stool_parts(rng: Random) -> Image.Image:
    """Legs in a row, seats still square with their circles drawn."""
    camera = views.close(views.WIDE, -22, 1.02, height=1150, away=1500, middle=0.5)
    picture = views.on_bench(rng, views.WIDE, camera)
    from_left = [moved(leg, (-230, 0, 0)) for leg in tables.legs_lying(rng, tables.MAPLE, 5, 420)]
    blank = tables.seat_blank((300, 20, 0), 1)
    render.draw(picture, camera, [*from_left, blank], rng, dense=1.3, shadow=115)
    drawing = Drawing(picture, rng, camera)
    turns = [math.tau * i / 40 for i in range(41)]
    ring = [Point(300 + 170 * math.cos(turn), 20 + 170 * math.sin(turn), 40) for turn in turns]
    for begin, end in itertools.pairwise(ring):
        drawing.scored(begin, end, width=2.0, dark=175)
    for begin, end in ((Point(122, 20, 40), Point(478, 20, 40)), (Point(300, -158, 40), Point(300, 198, 40))):
        drawing.scored(begin, end, width=1.4, dark=140)
    return drawing.lay()


def tray_wet(rng: Random) -> Image.Image:
    """The tray on two slips of wood, its oil still wet."""
    camera = views.standing(views.WIDE, -32, 1.75, 30, middle=0.54)
    slips = [box("spruce", (x, -190, 0), (30, 380, 24), "y", pick=2) for x in (-170, 140)]
    return piece(rng, [*slips, *cases.tray(lift=24)], camera, wash=1, dense=1.4)


def tray_dry(rng: Random) -> Image.Image:
    camera = views.close(views.WIDE, -24, 1.5, height=900, away=1400, middle=0.52)
    picture = views.on_bench(rng, views.WIDE, camera)
    render.draw(picture, camera, cases.tray(), rng, dense=1.2, shadow=120)
    return picture


def desk_legs(rng: Random) -> Image.Image:
    """Four tapered legs of cherry with the places of their mortises marked."""
    camera = views.close(views.WIDE, -18, 1.12, height=1100, away=1500, middle=0.5)
    picture = views.on_bench(rng, views.WIDE, camera)
    legs = tables.legs_lying(rng, tables.CHERRY, 4, 720)
    render.draw(picture, camera, [*legs, *pencil_lying(-160, -230, 0)], rng, dense=1.3, shadow=115)
    drawing = Drawing(picture, rng, camera)
    for leg in legs:
        low, high = leg.bounds()
        middle = (low.y + high.y) / 2
        for x in (high.x - 20, high.x - 120):
            drawing.scored(Point(x, middle - 21, 44), Point(x, middle + 21, 44), width=1.8, dark=185, over=2)
        for y in (middle - 5, middle + 5):
            drawing.scored(Point(high.x - 120, y, 43.4), Point(high.x - 20, y, 44), width=1.3, dark=165)
    return drawing.lay()
