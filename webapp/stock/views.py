"""What was bought: every line of every bill, for a build or for the shelf."""

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.builds.models import Build
from webapp.db.session import session, sessions
from webapp.photos.intake import Batch, receive_all
from webapp.stock.actions import add_receipt, billed, fill, lines, measured, open_builds, sum_of, typed
from webapp.stock.forms import UNITS, MaterialForm
from webapp.stock.models import Material
from webapp.web import guard, once, versions
from webapp.web.clock import now, today
from webapp.web.files import store
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
    batch = _receipt(Build, build_id)
    build = mine(Build, build_id) if build_id else None
    form = _form(build)
    if not _is_right(form, batch):
        return _new_page(form, build), 422
    material = Material(shop_id=visitor().shop.id)
    fill(material, form)
    session().add(material)
    add_receipt(session(), material, batch, visitor().maker_id, now())
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
    batch = _receipt(Material, material_id)
    material = mine(Material, material_id)
    form = _form(material.build)
    if not _is_right(form, batch):
        return _edit_page(form, material), 422
    if versions.is_stale(form, material):
        _ask_again(form, batch)
        saved = MaterialForm(data=typed(material), builds=_builds(material.build))
        return _edit_page(form, material, versions.differences(form, saved)), 409
    fill(material, form)
    add_receipt(session(), material, batch, visitor().maker_id, now())
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


def _receipt(table: type[Build] | type[Material], key: int | None) -> Batch:
    """Store the picture that was sent, before the transaction begins; strangers are answered 404 first."""
    sent = request.files.get("receipt")
    if sent is None or not sent.filename:
        return Batch()
    if key is not None:
        with sessions().read() as db:
            if db.scalar(select(table.id).where(table.id == key, table.shop_id == visitor().shop.id)) is None:
                abort(404)
    return receive_all([(sent.filename, sent.stream)], store(), visitor().shop.zone)  # type: ignore[list-item]


def _is_right(form: MaterialForm, batch: Batch) -> bool:
    right = form.validate()
    if batch.refused:
        form.receipt.errors = [batch.refused[0].says]
    elif not right:
        _ask_again(form, batch)
    return right and not batch.refused


def _ask_again(form: MaterialForm, batch: Batch) -> None:
    """A browser sends a file once: where the form comes back, the photo has to be chosen again."""
    if batch.received:
        form.receipt.errors = ["Please choose the photo again."]


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
