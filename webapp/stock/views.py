"""What was bought: every line of every bill, for a build or for the shelf."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.stock.actions import billed, fill, lines, measured, open_builds, sum_of, typed
from webapp.stock.forms import UNITS, MaterialForm
from webapp.stock.models import Material
from webapp.web import guard, once, versions
from webapp.web.clock import today
from webapp.web.guard import mine, visitor
from webapp.web.paging import page_of

room = Blueprint("stock", __name__)


@room.get("/stock")
def index() -> str:
    """List what was bought, newest first: all of it, for one build, or for the shelf."""
    build = mine(Build, request.args["build"]) if request.args.get("build", "").isdecimal() else None
    shelf = "shelf" in request.args
    wanted = lines(visitor().shop.id, build, shelf=shelf)
    year = today(str(visitor().shop.zone)).replace(month=1, day=1)
    narrow = shelf or build is not None
    return render_template(
        "stock/index.html",
        page=page_of(wanted),
        measured=measured,
        billed=billed,
        build=build,
        shelf=shelf,
        bought=sum_of(session(), wanted, None if narrow else year),
        year=None if narrow else year.year,
    )


@room.get("/stock/new")
@room.get("/builds/<int:build_id>/materials/new")
def new(build_id: int | None = None) -> str:
    """Show the form for a new line."""
    build = mine(Build, build_id) if build_id else None
    form = _form(build, {"bought_on": today(str(visitor().shop.zone)), "build": str(build.id) if build else ""})
    return _new_page(form, build)


@room.post("/stock/new")
@room.post("/builds/<int:build_id>/materials/new")
@once.once
def create(build_id: int | None = None) -> ResponseReturnValue:
    """Add a line."""
    build = mine(Build, build_id) if build_id else None
    form = _form(build)
    if not form.validate():
        return _new_page(form, build), 422
    material = Material(shop_id=visitor().shop.id)
    fill(material, form)
    session().add(material)
    location = once.keep(_list_of(material))
    session().commit()
    return redirect(location, 303)


@room.get("/stock/<int:material_id>/edit")
def edit(material_id: int) -> str:
    """Show the form of a line."""
    material = mine(Material, material_id)
    return _edit_page(_form(material.build, typed(material)), material)


@room.post("/stock/<int:material_id>/edit")
def update(material_id: int) -> ResponseReturnValue:
    """Change a line."""
    material = mine(Material, material_id)
    form = _form(material.build)
    if not form.validate():
        return _edit_page(form, material), 422
    if versions.is_stale(form, material):
        saved = MaterialForm(data=typed(material), builds=_builds(material.build))
        return _edit_page(form, material, versions.differences(form, saved)), 409
    fill(material, form)
    location = _list_of(material)
    session().commit()
    return redirect(location, 303)


@room.post("/stock/<int:material_id>/delete")
@guard.owner
def delete(material_id: int) -> ResponseReturnValue:
    """Strike a line out for good."""
    material = mine(Material, material_id)
    location = _list_of(material)
    session().delete(material)
    session().commit()
    return redirect(location, 303)


def _list_of(material: Material) -> str:
    if material.build_id:
        return url_for("stock.index", build=material.build_id)
    return url_for("stock.index", shelf="")


def _builds(build: Build | None) -> list[tuple[int, str]]:
    return open_builds(session(), visitor().shop.id, build.id if build else None)


def _form(build: Build | None, data: dict[str, Any] | None = None) -> MaterialForm:
    return MaterialForm(request.form, data=data, builds=_builds(build))


def _new_page(form: MaterialForm, build: Build | None) -> str:
    return render_template("stock/new.html", form=form, build=build, units=UNITS)


def _edit_page(form: MaterialForm, material: Material, differences: Any = None) -> str:
    return render_template("stock/edit.html", form=form, material=material, units=UNITS, differences=differences)
