"""The weekly hours of one maker, in place of the shop's: a helper on Thursday afternoons."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import replace_hours, this_maker, this_shop
from webapp.shops.hours_form import WeekForm
from webapp.shops.models import Maker
from webapp.shops.seen import Seen, seen
from webapp.web import guard, versions

part = Blueprint("maker_hours", __name__, url_prefix="/shop/makers/<int:key>/hours")


@part.get("")
@guard.owner
def edit(key: int) -> str:
    """Show the maker's week to change it; without one of their own, the shop's stands in the form."""
    maker = guard.mine(Maker, key)
    return _page(maker, _form(maker))


@part.post("")
@guard.owner
def update(key: int) -> ResponseReturnValue:
    """Give a maker hours of their own."""
    maker, form = this_maker(key), WeekForm(request.form)
    if "copy" in request.form:
        form.copy_monday()
        return _page(maker, form)
    if not form.validate():
        return _page(maker, form), 422
    if versions.is_stale(form, _seen(maker)):
        return _page(maker, form, versions.differences(form, _form(maker))), 409
    replace_hours(session(), this_shop(), maker, form.hours())
    flash(f"{maker.name} has hours of their own.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


@part.post("/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Let a maker keep the shop's hours again."""
    maker = this_maker(key)
    replace_hours(session(), this_shop(), maker, ())
    flash(f"{maker.name} keeps the shop's hours.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


def _form(maker: Maker) -> WeekForm:
    form = WeekForm()
    form.fill(maker.openings or this_shop().openings)
    form.version.data = _seen(maker).version
    return form


def _seen(maker: Maker) -> Seen:
    return seen([(row.weekday, row.opens, row.closes) for row in maker.openings])


def _page(maker: Maker, form: WeekForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/maker_hours.html", maker=maker, form=form, differences=differences)
