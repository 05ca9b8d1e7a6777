"""The house a piece goes to, and the usual one of the shop."""

from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.moisture.forms import TYPED, HouseForm
from webapp.moisture.houses import AIR, NEEDED, Houses, fill, houses_of, typed_target
from webapp.moisture.models import House
from webapp.shops.actions import this_shop
from webapp.shops.seen import Seen, seen
from webapp.trade.wood.moisture import NEAR, MoistureError
from webapp.web import guard, versions
from webapp.web.guard import mine, visitor

part = Blueprint("house", __name__)
NAMES = ("place", "low", "high", *AIR, "near")


@part.get("/moisture/house")
@part.get("/builds/<int:build_id>/house")
@guard.owner
def edit(build_id: int | None = None) -> str:
    """Ask where the piece goes."""
    build = mine(Build, build_id) if build_id else None
    houses = houses_of(session(), visitor().shop.id, build)
    return _page(build, houses, _saved(build, houses))


@part.post("/moisture/house")
@part.post("/builds/<int:build_id>/house")
@guard.owner
def update(build_id: int | None = None) -> ResponseReturnValue:
    """Keep where the piece goes."""
    this_shop(lock=True)
    build = mine(Build, build_id) if build_id else None
    form = HouseForm(request.form, is_usual=build is None)
    houses = houses_of(session(), visitor().shop.id, build)
    if not _is_whole(form):
        return _page(build, houses, form), 422
    row = houses.own
    if versions.is_stale(form, _seen(row)):
        return _page(build, houses, form, versions.differences(form, _saved(build, houses))), 409
    if not form.place.data:
        if row is not None:
            session().delete(row)
    elif not _put(row or House(shop_id=visitor().shop.id, build_id=build_id), form):
        return _page(build, houses, form), 422
    flash("Saved.")
    session().commit()
    return redirect(url_for("builds.parts.index", build_id=build.id) if build else url_for("moisture.index"), 303)


def _put(row: House, form: HouseForm) -> bool:
    try:
        found = typed_target(form)
    except MoistureError as error:
        form.place.errors = (str(error),)
        return False
    fill(row, form, found)
    session().add(row)
    return True


def _is_whole(form: HouseForm) -> bool:
    right = form.validate()
    for name in NEEDED.get(form.place.data, ()):
        if form[name].data is None and not form[name].errors:
            form[name].errors = ("This is needed here.",)
            right = False
    return right


def _saved(build: Build | None, houses: Houses) -> HouseForm:
    row = houses.own
    form = HouseForm(obj=row, is_usual=build is None)
    if row is not None and row.place != TYPED:
        form.low.data = form.high.data = None  # nobody's own figures: they follow from the house or its air
    if build is None and row is None:
        form.near.data = NEAR
    form.version.data = _seen(row).version
    return form


def _seen(row: House | None) -> Seen:
    return seen(*(getattr(row, name) for name in NAMES)) if row else seen()


def _page(build: Build | None, houses: Houses, form: HouseForm, differences: Any = None) -> str:
    return render_template("moisture/house.html", build=build, form=form, target=houses.target, differences=differences)
