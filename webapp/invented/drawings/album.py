"""Every picture of the invented shop by name, and how one becomes a file as a phone would send it."""

import io
from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial
from random import Random

from PIL import Image

from webapp.invented.drawings import cases, joints, lumber, surfaces, tables, whole
from webapp.invented.drawings.sketches import Sketch, sketch

TAKEN, OFFSET, EXIF = 0x9003, 0x9011, 0x8769
SIDE = (980.0, 122.0, 24.0)

PICTURES: Mapping[str, Callable[[Random], Image.Image]] = {
    "hall boards": partial(lumber.stack, wood="ash"),
    "hall layout": partial(lumber.layout, wood="ash", boards=4),
    "hall panel": partial(lumber.panel, wood="ash", boards=4),
    "hall tenon": partial(joints.tenon, wood="ash"),
    "hall base": whole.base_dry,
    "hall oil": partial(surfaces.oiled, wood="ash"),
    "hall table": whole.hall_table_in_its_place,
    "stool parts": whole.stool_parts,
    "stool one": whole.stool,
    "stools": whole.stools,
    "cabinet boards": partial(lumber.stack, wood="oak", layers=2),
    "cabinet corner": partial(joints.dovetails, wood="oak"),
    "cabinet door": partial(lumber.frame, wood="oak"),
    "cabinet open": partial(whole.cabinet_on_the_wall, opened=115),
    "cabinet": whole.cabinet_on_the_wall,
    "tray corner": partial(joints.dovetails, wood="walnut", count=3),
    "tray dry": whole.tray_dry,
    "tray oil": partial(surfaces.oiled, wood="walnut", long=820, deep=380),
    "tray wet": whole.tray_wet,
    "desk boards": partial(lumber.stack, wood="cherry", waney=True),
    "desk layout": partial(lumber.layout, wood="cherry", boards=5, long=940, deep=440),
    "desk beads": partial(surfaces.beads, wood="cherry"),
    "desk panel": partial(lumber.panel, wood="cherry", boards=5, long=920, deep=440),
    "desk legs": whole.desk_legs,
    "desk base": whole.base_in_clamps,
    "bookcase boards": partial(lumber.stack, wood="elm", waney=True, layers=4),
    "bookcase sides": partial(lumber.rows, wood="elm", sizes=(SIDE,) * 3),
    "bookcase shelves": partial(lumber.panel, wood="elm", boards=3, long=760, deep=280, count=2),
    "chest samples": partial(surfaces.samples, wood="pear"),
}

SKETCHES: Mapping[str, Sketch] = {
    "stool sketch": Sketch(partial(tables.stool, pick=3), turned=-20, scale=1.25, look=220),
    "desk sketch": Sketch(tables.desk, turned=-30, scale=0.62, look=390),
    "bookcase sketch": Sketch(cases.bookcase, turned=-27, scale=0.58, look=560),
    "chest sketch": Sketch(cases.chest, turned=-30, scale=1.75, look=95),
    "blanket sketch": Sketch(cases.blanket_chest, turned=-30, scale=0.78, look=250),
}


def drawn(name: str, unit: str) -> Image.Image:
    """Return a picture of the album, the same each time; `unit` is what sketches are dimensioned in."""
    rng = Random(name)
    return sketch(rng, unit, SKETCHES[name]) if name in SKETCHES else PICTURES[name](rng)


def photo(name: str, unit: str, taken: datetime) -> bytes:
    """Return a picture as a JPEG file that says when it was taken, on the wall clock of the shop and its offset."""
    picture = drawn(name, unit)
    exif = Image.Exif()
    inner = exif.get_ifd(EXIF)
    inner[TAKEN] = taken.strftime("%Y:%m:%d %H:%M:%S")
    offset = taken.strftime("%z")
    inner[OFFSET] = f"{offset[:3]}:{offset[3:5]}"
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=88, exif=exif)
    return file.getvalue()
