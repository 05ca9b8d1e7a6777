"""Every picture of the invented shop by name, and how one becomes a file as a phone would send it."""

import io
from collections.abc import Callable
from datetime import datetime
from random import Random

from PIL import Image

from webapp.invented.drawings import cases, joints, lumber, sketches, surfaces, tables, views, whole

Drawer = Callable[[Random, str], Image.Image]  # takes the unit that dimensions are written in
TAKEN, OFFSET, MADE_BY = 0x9003, 0x9011, 0x0131
EXIF = 0x8769
SIDE = (980.0, 122.0, 24.0)

ALBUM: dict[str, Drawer] = {
    "hall boards": lambda rng, unit: lumber.stack(rng, "ash"),
    "hall layout": lambda rng, unit: lumber.layout(rng, "ash", 4),
    "hall panel": lambda rng, unit: lumber.panel(rng, "ash", 4),
    "hall tenon": lambda rng, unit: joints.tenon(rng, "ash"),
    "hall base": lambda rng, unit: whole.base_dry(rng),
    "hall oil": lambda rng, unit: surfaces.oiled(rng, "ash"),
    "hall table": lambda rng, unit: whole.hall_table_in_its_place(rng),
    "stool sketch": lambda rng, unit: sketches.sketch(
        rng, unit, views.WIDE, views.standing(views.WIDE, -20, 1.25, 220), tables.stool(pick=3)
    ),
    "stool parts": lambda rng, unit: whole.stool_parts(rng),
    "stool one": lambda rng, unit: whole.stool(rng),
    "stools": lambda rng, unit: whole.stools(rng),
    "cabinet boards": lambda rng, unit: lumber.stack(rng, "oak", layers=2),
    "cabinet corner": lambda rng, unit: joints.dovetails(rng, "oak", "oak"),
    "cabinet door": lambda rng, unit: lumber.frame(rng, "oak"),
    "cabinet open": lambda rng, unit: whole.cabinet_on_the_wall(rng, opened=115),
    "cabinet": lambda rng, unit: whole.cabinet_on_the_wall(rng),
    "tray corner": lambda rng, unit: joints.dovetails(rng, "walnut", "walnut", count=3),
    "tray dry": lambda rng, unit: whole.tray_dry(rng),
    "tray oil": lambda rng, unit: surfaces.oiled(rng, "walnut", long=820, deep=380),
    "tray wet": lambda rng, unit: whole.tray_wet(rng),
    "desk sketch": lambda rng, unit: sketches.sketch(
        rng, unit, views.WIDE, views.standing(views.WIDE, -30, 0.62, 390), tables.desk()
    ),
    "desk boards": lambda rng, unit: lumber.stack(rng, "cherry", waney=True),
    "desk layout": lambda rng, unit: lumber.layout(rng, "cherry", 5, long=940, deep=440),
    "desk beads": lambda rng, unit: surfaces.beads(rng, "cherry"),
    "desk panel": lambda rng, unit: lumber.panel(rng, "cherry", 5, long=920, deep=440),
    "desk legs": lambda rng, unit: whole.desk_legs(rng),
    "desk base": lambda rng, unit: whole.base_in_clamps(rng),
    "bookcase sketch": lambda rng, unit: sketches.sketch(
        rng, unit, views.WIDE, views.standing(views.WIDE, -27, 0.58, 560), cases.bookcase()
    ),
    "bookcase boards": lambda rng, unit: lumber.stack(rng, "elm", waney=True, layers=4),
    "bookcase sides": lambda rng, unit: lumber.rows(rng, "elm", (SIDE,) * 3),
    "bookcase shelves": lambda rng, unit: lumber.panel(rng, "elm", 3, long=760, deep=280, count=2),
    "bookcase housings": lambda rng, unit: joints.housings(rng, "elm"),
    "chest sketch": lambda rng, unit: sketches.sketch(
        rng, unit, views.WIDE, views.standing(views.WIDE, -30, 1.75, 95), cases.chest()
    ),
    "chest samples": lambda rng, unit: surfaces.samples(rng, "pear"),
    "blanket sketch": lambda rng, unit: sketches.sketch(
        rng, unit, views.WIDE, views.standing(views.WIDE, -30, 0.78, 250), cases.blanket_chest()
    ),
}


def drawn(name: str, unit: str) -> Image.Image:
    """Return a picture of the album: the same each time."""
    return ALBUM[name](Random(name), unit)


def photo(name: str, unit: str, taken: datetime) -> bytes:
    """Return a picture as a JPEG file that says when it was taken, on the wall clock of the shop and its offset."""
    picture = drawn(name, unit)
    exif = Image.Exif()
    inner = exif.get_ifd(EXIF)
    inner[TAKEN] = taken.strftime("%Y:%m:%d %H:%M:%S")
    offset = taken.strftime("%z")
    inner[OFFSET] = f"{offset[:3]}:{offset[3:]}"
    exif[MADE_BY] = "drawn by code"
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=88, exif=exif)
    return file.getvalue()
