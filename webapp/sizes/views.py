"""The sizes of a piece: its story stick, as a sheet to fill in, to judge by and to print."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.keys import key_for
from webapp.builds.models import Build, Size
from webapp.db.session import session
from webapp.sizes.forms import SizeForm, data_of
from webapp.sizes.shown import shown, was_measured
from webapp.web import guard, once, versions

room = Blueprint("sizes", __name__)


@room.get("/builds/<int:build_id>/sizes")
def index(build_id: int) -> str:
    """Show the sizes of a piece, and the form for the next one."""
    build = guard.mine(Build, build_id)
    last = build.sizes[-1] if build.sizes else None
    again = {"part": last.part, "tolerance": data_of(last, _unit())["tolerance"]} if last else {}
    return _index(build, SizeForm(data=again).offer(build.sizes))


@room.post("/builds/<int:build_id>/sizes")
@once.once
def create(build_id: int) -> ResponseReturnValue:
    """Add a size and come back for the next."""
    build = guard.mine(Build, build_id)
    form = SizeForm(request.form).offer(build.sizes)
    if not form.validate():
        return _index(build, form), 422
    last = max((row.position for row in build.sizes), default=0)
    key = key_for(form.name.data or "", {row.key for row in build.sizes})
    row = Size(shop_id=build.shop_id, build_id=build.id, position=last + 1, key=key)
    form.fill(row)
    session().add(row)
    location = once.keep(url_for("sizes.index", build_id=build.id, _anchor="next"))
    session().commit()
    return redirect(location, 303)


def _unit() -> str:
    return guard.visitor().shop.length_unit


def _index(build: Build, form: SizeForm) -> str:
    return render_template("sizes/index.html", build=build, form=form, sizes=shown(session(), build))


@room.get("/sizes/<int:size_id>/edit")
def edit(size_id: int) -> str:
    """Ask what is to be changed about the size."""
    row = guard.mine(Size, size_id)
    return _edit(row, _saved(row))


@room.post("/sizes/<int:size_id>/edit")
def update(size_id: int) -> ResponseReturnValue:
    """Keep what was changed, unless somebody changed the size meanwhile."""
    row = guard.mine(Size, size_id)
    form = SizeForm(request.form).offer(row.build.sizes, row)
    if not form.validate():
        return _edit(row, form), 422
    if versions.is_stale(form, row):
        return _edit(row, form, versions.differences(form, _saved(row))), 409
    form.fill(row)
    session().commit()
    return redirect(url_for("sizes.index", build_id=row.build_id), 303)


def _saved(row: Size) -> SizeForm:
    return SizeForm(data=data_of(row, _unit())).offer(row.build.sizes, row)


def _edit(row: Size, form: SizeForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    measured = was_measured(session(), row)
    return render_template("sizes/edit.html", size=row, form=form, differences=differences, measured=measured)


@room.post("/sizes/<int:size_id>/delete")
def delete(size_id: int) -> ResponseReturnValue:
    """Take a size off the sheet, unless the journal tells what it measured."""
    row = guard.mine(Size, size_id)
    if was_measured(session(), row):
        return _edit(row, _saved(row)), 409
    location = url_for("sizes.index", build_id=row.build_id)
    for other in row.build.sizes:
        if other.goes_into == row.key:
            other.goes_into = other.fit = ""
    flash(f"{row.name} is off the sheet.")
    session().delete(row)
    session().commit()
    return redirect(location, 303)
