"""The air right now: two figures, typed with glue on the fingers, on the bench or on a page of their own."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.air import air_of_form, air_words, reading_of
from webapp.shops.forms import AirForm
from webapp.web import once
from webapp.web.clock import now
from webapp.web.local_path import local_path

part = Blueprint("air", __name__, url_prefix="/shop/air")


@part.get("")
def edit() -> str:
    """Show what was read last, and ask for what it is now."""
    return render_template("shops/air.html", **air_of_form(AirForm()), next=_next())


@part.post("")
@once.once
def update() -> ResponseReturnValue:
    """Note how warm and how humid it is now. Whether hours count stays as it was said last."""
    form = AirForm(request.form)
    shown = air_of_form(form)
    if not form.validate():
        return render_template("shops/air.html", **shown, next=_next()), 422
    row = reading_of(form, now(), counts=None)
    session().add(row)
    flash(f"Noted: {air_words(row)}.")
    location = once.keep(_next())
    session().commit()
    return redirect(location, 303)


def _next() -> str:
    return local_path(request.args.get("next"), url_for("shops.readings.index"))
