"""Widths and joints that are looked at each season after delivery."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.moisture.forms import LookForm, WatchForm
from webapp.moisture.leeways import short
from webapp.moisture.models import Look, Watch
from webapp.moisture.watching import of_build, watched_of
from webapp.shops.actions import this_shop
from webapp.web import once
from webapp.web.clock import now, today
from webapp.web.guard import mine, visitor

part = Blueprint("watches", __name__)


@part.get("/builds/<int:build_id>/watches")
def index(build_id: int) -> str:
    """Show the watch points of a piece, and the form for another."""
    build = mine(Build, build_id)
    return _index(build, _form(build))


@part.post("/builds/<int:build_id>/watches")
@once.once
def create(build_id: int) -> ResponseReturnValue:
    """Add a watch point."""
    build = mine(Build, build_id)
    form = _form(build)
    if not form.validate():
        return _index(build, form), 422
    row = Watch(shop_id=build.shop_id, part_id=int(form.part.data), name=form.name.data)
    _put_width(row, form)
    row.moisture = form.moisture.data
    session().add(row)
    location = once.keep(url_for("moisture.watches.index", build_id=build.id))
    session().commit()
    return redirect(location, 303)


@part.get("/watches/<int:key>")
def show(key: int) -> str:
    """Show what was seen at a watch point, and the form for the next look."""
    return _show(mine(Watch, key), LookForm())


@part.post("/watches/<int:key>")
@once.once
def look(key: int) -> ResponseReturnValue:
    """Note what was seen."""
    this_shop(lock=True)
    watch, form = mine(Watch, key), LookForm(request.form)
    if not form.validate():
        return _show(watch, form), 422
    number = max((one.number for one in watch.looks), default=0) + 1
    row = _look(watch, number, 1)
    _put_width(row, form)
    row.note = form.note.data or ""
    session().add(row)
    location = once.keep(url_for("moisture.watches.show", key=watch.id))
    session().commit()
    return redirect(location, 303)


@part.post("/watches/<int:key>/end")
def end(key: int) -> ResponseReturnValue:
    """Look at it no more. What was seen stays."""
    watch = mine(Watch, key)
    watch.ended_on = today(str(visitor().shop.zone))
    location = url_for("moisture.watches.index", build_id=watch.part.build_id)
    session().commit()
    return redirect(location, 303)


@part.post("/looks/<int:key>/delete")
def take_back(key: int) -> ResponseReturnValue:
    """Take a look back: another row says so."""
    this_shop(lock=True)
    old = mine(Look, key)
    watch = mine(Watch, old.watch_id)
    last = max(one.revision for one in watch.looks if one.number == old.number)
    row = _look(watch, old.number, last + 1)
    row.is_taken_back = True
    session().add(row)
    session().commit()
    return redirect(url_for("moisture.watches.show", key=watch.id), 303)


def _look(watch: Watch, number: int, revision: int) -> Look:
    place = {"shop_id": watch.shop_id, "watch_id": watch.id, "maker_id": visitor().maker_id}
    return Look(**place, number=number, revision=revision, at=now())


def _put_width(row: Watch | Look, form: WatchForm | LookForm) -> None:
    width = form.width.data
    row.width_typed, row.width_nm = (width.entered, width.nanometres) if width else ("", None)


def _form(build: Build) -> WatchForm:
    form = WatchForm(request.form)
    form.part.offer([(str(part.id), part.name) for part in build.parts])
    return form


def _index(build: Build, form: WatchForm) -> str:
    watched = watched_of(session(), build, of_build(session(), build))
    return render_template("moisture/watches.html", build=build, watched=watched, form=form, short=short)


def _show(watch: Watch, form: Any) -> str:
    (watched,) = watched_of(session(), watch.part.build, [watch])
    return render_template("moisture/watch.html", watched=watched, build=watch.part.build, form=form, short=short)
