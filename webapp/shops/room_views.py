"""The rooms of the shop: how many pieces may stand wet, how long dust hangs, a climate of their own."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import delete_unless_held, this_shop
from webapp.shops.forms import RoomForm
from webapp.shops.models import Room
from webapp.shops.seen import Seen, seen
from webapp.web import guard, once, versions

part = Blueprint("rooms", __name__, url_prefix="/shop/rooms")


@part.get("")
@guard.owner
def index() -> str:
    """Show the rooms."""
    return _page(RoomForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add a room."""
    form = RoomForm(request.form)
    if not _is_right(form, None):
        return _page(form), 422
    row = Room(shop_id=this_shop().id)
    _fill(form, row)
    session().add(row)
    location = once.keep(url_for("shops.rooms.index"))
    session().commit()
    return redirect(location, 303)


@part.get("/<int:key>")
@guard.owner
def edit(key: int) -> str:
    """Show a room to change it."""
    row = guard.mine(Room, key)
    return _one(row, _form(row))


@part.post("/<int:key>")
@guard.owner
def update(key: int) -> ResponseReturnValue:
    """Change a room."""
    this_shop(lock=True)
    row, form = guard.mine(Room, key), RoomForm(request.form)
    if not _is_right(form, row):
        return _one(row, form), 422
    if versions.is_stale(form, _seen(row)):
        return _one(row, form, versions.differences(form, _form(row))), 409
    _fill(form, row)
    flash("Saved.")
    session().commit()
    return redirect(url_for("shops.rooms.index"), 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Give up a room, unless it is the only one: every operation is done somewhere."""
    row = guard.mine(Room, key)
    name, form = row.name, _form(row)
    if len(this_shop(lock=True).rooms) == 1:
        form.name.errors = ("This is the only room, and work is always done in one. Rename it instead.",)
        return _one(row, form), 409
    if not delete_unless_held(session(), row):
        form.name.errors = (f"Something still stands in {name}. Move it first.",)
        return _one(row, form), 409
    flash(f"{name} is off the list.")
    session().commit()
    return redirect(url_for("shops.rooms.index"), 303)


def _is_right(form: RoomForm, row: Room | None) -> bool:
    if not form.validate():
        return False
    if not guard.is_taken(Room, form.name.data, row):
        return True
    form.name.errors = ("There is a room of that name already.",)
    return False


def _fill(form: RoomForm, row: Room) -> None:
    form.populate_obj(row)
    row.settle_minutes = form.settle_minutes.data or 0


def _form(row: Room) -> RoomForm:
    form = RoomForm(obj=row)
    form.version.data = _seen(row).version
    return form


def _seen(row: Room) -> Seen:
    return seen(row.name, row.drying_places, row.settle_minutes, row.climate_day, row.climate_night, row.humidity)


def _page(form: RoomForm) -> str:
    return render_template("shops/rooms.html", form=form, rooms=this_shop().rooms)


def _one(row: Room, form: RoomForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/room_edit.html", row=row, form=form, differences=differences)
