"""Clamps, presses, forms: what a wait holds, and how many there are."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import delete_unless_held, this_shop
from webapp.shops.forms import EquipmentForm
from webapp.shops.models import Equipment
from webapp.shops.seen import Seen, seen
from webapp.web import guard, once, versions

part = Blueprint("equipment", __name__, url_prefix="/shop/equipment")


@part.get("")
@guard.owner
def index() -> str:
    """Show the equipment."""
    return _page(EquipmentForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add equipment."""
    form = EquipmentForm(request.form)
    if not _is_right(form, None):
        return _page(form), 422
    row = Equipment(shop_id=this_shop().id)
    form.populate_obj(row)
    session().add(row)
    location = once.keep(url_for("shops.equipment.index"))
    session().commit()
    return redirect(location, 303)


@part.get("/<int:key>")
@guard.owner
def edit(key: int) -> str:
    """Show one kind of equipment to change it."""
    row = guard.mine(Equipment, key)
    return _one(row, _form(row))


@part.post("/<int:key>")
@guard.owner
def update(key: int) -> ResponseReturnValue:
    """Change its name or how many there are."""
    this_shop(lock=True)
    row, form = guard.mine(Equipment, key), EquipmentForm(request.form)
    if not _is_right(form, row):
        return _one(row, form), 422
    if versions.is_stale(form, _seen(row)):
        return _one(row, form, versions.differences(form, _form(row))), 409
    form.populate_obj(row)
    flash("Saved.")
    session().commit()
    return redirect(url_for("shops.equipment.index"), 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Take it off the list, unless an operation holds it."""
    row = guard.mine(Equipment, key)
    name = row.name
    if not delete_unless_held(session(), row):
        form = _form(row)
        form.name.errors = (f"{name}: an operation of a build still asks for it. Take it off that operation first.",)
        return _one(row, form), 409
    flash(f"{name} is off the list.")
    session().commit()
    return redirect(url_for("shops.equipment.index"), 303)


def _is_right(form: EquipmentForm, row: Equipment | None) -> bool:
    if not form.validate():
        return False
    if not guard.is_taken(Equipment, form.name.data, row):
        return True
    form.name.errors = ("That is on the list already: change how many there are.",)
    return False


def _form(row: Equipment) -> EquipmentForm:
    form = EquipmentForm(obj=row)
    form.version.data = _seen(row).version
    return form


def _seen(row: Equipment) -> Seen:
    return seen(row.name, row.count)


def _page(form: EquipmentForm) -> str:
    return render_template("shops/equipment.html", form=form, equipment=this_shop().equipment)


def _one(row: Equipment, form: EquipmentForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/equipment_edit.html", row=row, form=form, differences=differences)
