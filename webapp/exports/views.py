"""What can be taken out: a shop or a build as a file, its costs and hours as tables."""

import re
from collections.abc import Iterable
from datetime import date

from flask import Blueprint, Response, abort, render_template, url_for

from webapp.builds.models import Build
from webapp.db.folding import fold
from webapp.db.session import session
from webapp.exports import rows, sheets
from webapp.exports.archive import zipped
from webapp.exports.cells import table
from webapp.exports.imports_views import part as imports
from webapp.exports.pictures import shown_or_none
from webapp.exports.taking_out import Taken, build_file, shop_file
from webapp.exports.text import written
from webapp.photos.intake import LARGE
from webapp.photos.models import key
from webapp.shops.actions import this_shop
from webapp.shops.models import Shop
from webapp.web.clock import now, today
from webapp.web.files import Store, store
from webapp.web.guard import mine, owner, visitor

room = Blueprint("exports", __name__)
room.register_blueprint(imports)

LONGEST_NAME = 40


@room.get("/exports")
@room.get("/builds/<int:build_id>/exports")
@owner
def show(build_id: int | None = None) -> str:
    """Show what can be taken out of the shop, or of one build."""
    build = mine(Build, build_id) if build_id else None
    return render_template("exports/show.html", build=build, address=_address)


def _address(endpoint: str, build: Build | None) -> str:
    return url_for(f"exports.{endpoint}", build_id=build.id) if build else url_for(f"exports.{endpoint}")


@room.get("/exports/shop.json")
@room.get("/builds/<int:build_id>/exports/build.json")
@owner
def bare(build_id: int | None = None) -> Response:
    """Send a shop or a build as a file, without its pictures."""
    name, taken = _taken(build_id, store())
    return _sent((piece.encode() for piece in written(taken.file)), f"{name}.json", "application/json")


@room.get("/exports/shop.zip")
@room.get("/builds/<int:build_id>/exports/build.zip")
@owner
def whole(build_id: int | None = None) -> Response:
    """Send a shop or a build as a file with its pictures beside it, as they are served."""
    kept = store()
    name, taken = _taken(build_id, kept)
    pieces = zipped(taken.file, taken.pictures, lambda sha256: kept.open(key(sha256, LARGE)))
    return _sent(pieces, f"{name}.zip", "application/zip")


def _taken(build_id: int | None, kept: Store) -> tuple[str, Taken]:
    rows.of_one_moment(session())
    build, shop = _of(build_id)

    def shown(sha256: str) -> str | None:
        return shown_or_none(sha256, kept)

    if build is None:
        return _named(shop.name, "shop"), shop_file(session(), shop, shown)
    return _named(build.name, "build"), build_file(session(), shop, build, shown)


def _of(build_id: int | None) -> tuple[Build | None, Shop]:
    return (mine(Build, build_id) if build_id else None), this_shop()


@room.get("/exports/costs.csv")
@room.get("/builds/<int:build_id>/exports/costs.csv")
@owner
def costs(build_id: int | None = None) -> Response:
    """Send the costs and payments of all builds, or of one, as a table."""
    build, shop = _of(build_id)
    builds = [build] if build else sheets.builds_of(session(), shop)
    lines = sheets.costs(session(), shop, builds, now(), shelf=build is None)
    name = _named(build.name if build else shop.name, "costs")
    return _sent([_text(sheets.COSTS, lines)], f"{name}.csv", "text/csv")


@room.get("/exports/hours.csv")
@room.get("/builds/<int:build_id>/exports/hours.csv")
def hours(build_id: int | None = None) -> Response:
    """Send the hours as a table: all of them to an owner, to a helper their own."""
    build, shop = _of(build_id)
    who = visitor()
    if not who.is_owner and who.maker_id is None:
        abort(403)
    lines = sheets.worked(session(), shop, now(), build=build, maker_id=None if who.is_owner else who.maker_id)
    name = _named(build.name if build else shop.name, "hours")
    return _sent([_text(sheets.HOURS, lines)], f"{name}.csv", "text/csv")


def _text(head: Iterable[str], lines: sheets.Lines) -> bytes:
    """The whole table: once the answer is on its way the database is shut."""
    return "".join(table(tuple(head), lines)).encode()


def _named(name: str, what: str) -> str:
    """Return what a file is called: the day, what it is of, and what it holds, in letters every system takes."""
    short = re.sub(r"[^a-z0-9]+", "-", fold(name)).strip("-")[:LONGEST_NAME].strip("-")
    day: date = today(str(visitor().shop.zone))
    return "-".join(word for word in ("benchtide", short, what, day.isoformat()) if word)


def _sent(pieces: Iterable[bytes], name: str, kind: str) -> Response:
    answer = Response(pieces, mimetype=kind)
    answer.headers.set("Content-Disposition", "attachment", filename=name)
    return answer
