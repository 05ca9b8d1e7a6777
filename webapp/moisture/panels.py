"""What other pages show of moisture: the database is asked once for all lines that the page has loaded."""

from collections.abc import Iterable, Sequence
from typing import Any

from flask import render_template
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.moisture.fits import fits_of
from webapp.moisture.leeways import short
from webapp.moisture.models import MaterialMoisture
from webapp.moisture.moving import moves_of
from webapp.moisture.overview import readings
from webapp.moisture.watching import AFTER, due_now, of_build, watched_of
from webapp.sizes.shown import Shown
from webapp.stock.models import Material
from webapp.web.clock import today
from webapp.web.guard import visitor
from webapp.web.panels import drawn, looked_up

WOOD = "wood"


def stock_panel(_: None) -> str:
    """Return the way from the stock to its moisture."""
    return render_template("moisture/_stock.html")


def material_panel(material: Material) -> str:
    """Return the newest reading of the boards of a line of a bill, and the way to all; nothing where it is no wood."""
    if material.kind != WOOD:
        return ""
    return drawn("moisture/_material.html", "newest", material, looked_up(_newest, material))


def parts_panel(build: Build) -> str:
    """Return how each part of a piece moves, and the ways to its movement and its moisture."""
    if not build.parts:
        return ""
    found = moves_of(session(), build, build.parts)
    return render_template("moisture/_parts.html", build=build, parts=found, target=found[0].target, short=short)


def sizes_panel(sizes: Sequence[Shown]) -> str:
    """Return how what goes into what fits over the year; nothing where no pair of a piece says which parts it is of."""
    build = sizes[0].row.build
    found = fits_of(session(), build, sizes)
    return render_template("moisture/_fits.html", build=build, fits=found) if found.rows else ""


def build_panel(build: Build) -> str:
    """Return the watch points of a piece that was delivered, or has some already."""
    watches = of_build(session(), build)
    if not watches and build.status not in AFTER:
        return ""
    watched = watched_of(session(), build, watches)
    return render_template("moisture/_watch_panel.html", build=build, watched=watched, short=short)


def bench_panel(_: None) -> str:
    """Return which watch points are to be looked at, in one line."""
    who = visitor()
    due = due_now(session(), who.shop.id, today(str(who.shop.zone)))
    return render_template("moisture/_due.html", due=due) if due else ""


def _newest(db: Session, materials: Iterable[Material]) -> dict[int, Any]:
    ids = [row.id for row in materials if row.kind == WOOD]
    found = readings(db, MaterialMoisture, MaterialMoisture.material_id, ids)
    return {key: read[-1] for key, read in found.items()}
