"""The usual air of the shop, by day and by night."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import this_shop
from webapp.shops.forms import ClimateForm
from webapp.shops.models import Shop
from webapp.shops.seen import Seen, seen
from webapp.web import guard, versions

part = Blueprint("climate", __name__, url_prefix="/shop/climate")


@part.get("")
@guard.owner
def edit() -> str:
    """Show the climate to change it."""
    return _page(_form(this_shop()))


@part.post("")
@guard.owner
def update() -> ResponseReturnValue:
    """Set the climate."""
    shop, form = this_shop(lock=True), ClimateForm(request.form)
    if not form.validate():
        return _page(form), 422
    if versions.is_stale(form, _seen(shop)):
        return _page(form, versions.differences(form, _form(shop))), 409
    form.populate_obj(shop)
    flash("Saved.")
    session().commit()
    return redirect(url_for("shops.show"), 303)


def _form(shop: Shop) -> ClimateForm:
    form = ClimateForm(obj=shop)
    form.version.data = _seen(shop).version
    return form


def _seen(shop: Shop) -> Seen:
    return seen(shop.climate_day, shop.climate_night, shop.day_from, shop.day_to, shop.humidity)


def _page(form: ClimateForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/climate.html", form=form, differences=differences)
