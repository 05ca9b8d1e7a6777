"""The meters of the shop, with the tables of their manuals."""

from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.moisture.actions import fill, meters_of, typed
from webapp.moisture.forms import MeterForm
from webapp.moisture.models import Meter
from webapp.shops.actions import this_shop
from webapp.trade.wood.moisture import MoistureError
from webapp.web import guard, once, versions
from webapp.web.guard import mine, visitor

part = Blueprint("meters", __name__, url_prefix="/moisture/meters")


@part.get("")
@guard.owner
def index() -> str:
    """Show the meters, and the form for another."""
    return _page(MeterForm(data={"unit": visitor().shop.temperature_unit}))


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add a meter."""
    this_shop(lock=True)
    form, row = MeterForm(request.form), Meter(shop_id=visitor().shop.id)
    if not _is_right(form, row):
        return _page(form), 422
    session().add(row)
    location = once.keep(url_for("moisture.meters.index"))
    session().commit()
    return redirect(location, 303)


@part.get("/<int:key>")
@guard.owner
def edit(key: int) -> str:
    """Show a meter to change its tables."""
    row = mine(Meter, key)
    return _one(row, MeterForm(data=typed(row)))


@part.post("/<int:key>")
@guard.owner
def update(key: int) -> ResponseReturnValue:
    """Change a meter. What was read with it stays as it was put right then."""
    this_shop(lock=True)
    row, form = mine(Meter, key), MeterForm(request.form)
    if versions.is_stale(form, row):
        return _one(row, form, versions.differences(form, MeterForm(data=typed(row)))), 409
    if not _is_right(form, row):
        return _one(row, form), 422
    flash("Saved.")
    session().commit()
    return redirect(url_for("moisture.meters.index"), 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Take a meter off the list. What was read with it stays."""
    row = mine(Meter, key)
    flash(f"{row.name} is off the list.")
    session().delete(row)
    session().commit()
    return redirect(url_for("moisture.meters.index"), 303)


def _is_right(form: MeterForm, row: Meter) -> bool:
    """Whether the form makes a meter; the row is filled where it does."""
    if not form.validate():
        return False
    if guard.is_taken(Meter, form.name.data, row):
        form.name.errors = ("There is a meter of that name already.",)
        return False
    try:
        fill(row, form)
    except MoistureError as error:
        form.by_temperature.errors = (str(error),)
        return False
    return True


def _page(form: MeterForm) -> str:
    return render_template("moisture/meters.html", form=form, meters=meters_of(session(), visitor().shop.id))


def _one(row: Meter, form: MeterForm, differences: Any = None) -> str:
    return render_template("moisture/meter_edit.html", row=row, form=form, differences=differences)
