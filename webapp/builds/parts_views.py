"""The parts of a piece: a list to print, and a form that is there again after each."""

from collections.abc import Iterable
from fractions import Fraction

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build, Part
from webapp.builds.parts_form import PartForm, data_of
from webapp.db.session import session
from webapp.trade import lengths
from webapp.trade.wood.species import SPECIES
from webapp.web import guard, once, versions

part = Blueprint("parts", __name__)


@part.get("/builds/<int:build_id>/parts")
def index(build_id: int) -> str:
    """Show the parts of a piece, and the form for the next one."""
    build = guard.mine(Build, build_id)
    last = build.parts[-1] if build.parts else None
    return _index(build, PartForm(data={"wood": last.wood if last else build.wood, "cut": last.cut if last else ""}))


@part.post("/builds/<int:build_id>/parts")
@once.once
def create(build_id: int) -> ResponseReturnValue:
    """Add a part and come back for the next."""
    build = guard.mine(Build, build_id)
    form = PartForm(request.form)
    if not form.validate():
        return _index(build, form), 422
    last = max((row.position for row in build.parts), default=0)
    row = Part(shop_id=build.shop_id, build_id=build.id, position=last + 1)
    form.fill(row)
    session().add(row)
    location = once.keep(url_for("builds.parts.index", build_id=build.id, _anchor="next"))
    session().commit()
    return redirect(location, 303)


def _index(build: Build, form: PartForm) -> str:
    run = _run(build.parts, guard.visitor().shop.length_unit)
    return render_template("builds/parts/index.html", build=build, form=form, run=run, species=SPECIES)


def _run(parts: Iterable[Part], unit: str) -> list[str]:
    """Return all lengths end to end, inches and millimetres each by itself: both sums are exact."""
    sums: dict[str, Fraction] = {}
    for row in parts:
        if row.length_typed:
            one = lengths.read(row.length_typed, unit)
            kept_in = "in" if one.unit in ("in", "ft") else "mm"
            sums[kept_in] = sums.get(kept_in, Fraction(0)) + row.count * one.exact
    return [lengths.show(total, kept_in) for kept_in, total in sorted(sums.items())]


@part.get("/parts/<int:part_id>/edit")
def edit(part_id: int) -> str:
    """Ask what is to be changed about the part."""
    row = guard.mine(Part, part_id)
    return _edit(row, _saved(row))


@part.post("/parts/<int:part_id>/edit")
def update(part_id: int) -> ResponseReturnValue:
    """Keep what was changed, unless somebody changed the part meanwhile."""
    row = guard.mine(Part, part_id)
    form = PartForm(request.form)
    if not form.validate():
        return _edit(row, form), 422
    if versions.is_stale(form, row):
        return _edit(row, form, versions.differences(form, _saved(row))), 409
    form.fill(row)
    session().commit()
    return redirect(url_for("builds.parts.index", build_id=row.build_id), 303)


def _saved(row: Part) -> PartForm:
    return PartForm(data=data_of(row, guard.visitor().shop.length_unit))


def _edit(row: Part, form: PartForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("builds/parts/edit.html", part=row, form=form, differences=differences, species=SPECIES)


@part.post("/parts/<int:part_id>/delete")
def delete(part_id: int) -> ResponseReturnValue:
    """Take a part off the list."""
    row = guard.mine(Part, part_id)
    location = url_for("builds.parts.index", build_id=row.build_id)
    flash(f"{row.name} is off the list.")
    session().delete(row)
    session().commit()
    return redirect(location, 303)
