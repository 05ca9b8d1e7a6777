"""Woods that are not in the handbook's table, with figures from a source of the maker's own."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.moisture.forms import WoodForm
from webapp.moisture.models import OwnWood
from webapp.shops.actions import this_shop
from webapp.web import guard, once
from webapp.web.guard import mine, visitor

part = Blueprint("woods", __name__, url_prefix="/moisture/woods")


@part.get("")
@guard.owner
def index() -> str:
    """Show the woods of one's own, and the form for another."""
    return _page(WoodForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add a wood."""
    this_shop(lock=True)
    form = WoodForm(request.form)
    if not form.validate() or not _is_new(form):
        return _page(form), 422
    row = OwnWood(shop_id=visitor().shop.id)
    form.populate_obj(row)
    session().add(row)
    location = once.keep(url_for("moisture.woods.index"))
    session().commit()
    return redirect(location, 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Take a wood off the list."""
    row = mine(OwnWood, key)
    flash(f"{row.name} is off the list.")
    session().delete(row)
    session().commit()
    return redirect(url_for("moisture.woods.index"), 303)


def _is_new(form: WoodForm) -> bool:
    if not guard.is_taken(OwnWood, form.name.data):
        return True
    form.name.errors = ("That wood is in the list already. Take it off first.",)
    return False


def _page(form: WoodForm) -> str:
    rows = session().scalars(select(OwnWood).where(OwnWood.shop_id == visitor().shop.id).order_by(OwnWood.name))
    return render_template("moisture/woods.html", form=form, woods=rows.all())
