"""The weekly hours of the shop."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import replace_hours, this_shop
from webapp.shops.hours_form import HoursForm
from webapp.shops.models import Shop
from webapp.shops.seen import Seen, seen
from webapp.web import guard, versions
from webapp.web.local_path import local_path

part = Blueprint("hours", __name__, url_prefix="/shop/hours")


@part.get("")
@guard.owner
def edit() -> str:
    """Show the week to change it."""
    return _page(_form(this_shop()))


@part.post("")
@guard.owner
def update() -> ResponseReturnValue:
    """Set the week, or only copy Monday inside the form."""
    shop, form = this_shop(lock=True), HoursForm(request.form)
    if "copy" in request.form:
        form.copy_monday()
        return _page(form)
    if not form.validate():
        return _page(form), 422
    if versions.is_stale(form, _seen(shop)):
        return _page(form, versions.differences(form, _form(shop))), 409
    replace_hours(session(), shop, None, form.hours())
    shop.least_minutes = form.least_minutes.data or 0
    flash("The hours are set.")
    session().commit()
    return redirect(local_path(request.args.get("next"), url_for("shops.show")), 303)


def _form(shop: Shop) -> HoursForm:
    form = HoursForm(least_minutes=shop.least_minutes)
    form.fill(shop.openings)
    form.version.data = _seen(shop).version
    return form


def _seen(shop: Shop) -> Seen:
    return seen(shop.least_minutes, [(row.weekday, row.opens, row.closes) for row in shop.openings])


def _page(form: HoursForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/hours.html", form=form, differences=differences)
