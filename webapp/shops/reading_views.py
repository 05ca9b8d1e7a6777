"""How warm and how humid it was: read off as it is, by whoever stands in the shop."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.shops.actions import this_shop
from webapp.shops.air import is_still, reading_of
from webapp.shops.forms import ReadingForm
from webapp.shops.models import Reading, Room, Sensor
from webapp.web import guard, once
from webapp.web.clock import now
from webapp.web.local_path import local_path
from webapp.web.paging import page_of

part = Blueprint("readings", __name__, url_prefix="/shop/readings")


@part.get("")
def index() -> str:
    """Show what was read, the newest first."""
    form = _form()
    form.stopped.data = is_still()
    return _page(form)


@part.post("")
@once.once
def create() -> ResponseReturnValue:
    """Note a reading."""
    form = _form()
    if not form.validate():
        return _page(form), 422
    session().add(reading_of(form, form.at.data or now(), counts=not form.stopped.data))
    flash("Noted.")
    location = once.keep(local_path(request.args.get("next"), url_for("shops.readings.index")))
    session().commit()
    return redirect(location, 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Strike out a reading that was wrong."""
    session().delete(guard.mine(Reading, key))
    flash("That reading is gone.")
    session().commit()
    return redirect(url_for("shops.readings.index"), 303)


def _form() -> ReadingForm:
    form = ReadingForm(request.form)
    form.offer(this_shop().rooms)
    return form


def _page(form: ReadingForm) -> str:
    shop_id = guard.visitor().shop.id
    wanted = select(Reading).where(Reading.shop_id == shop_id).order_by(Reading.at.desc(), Reading.id.desc())
    rooms = {room.id: room.name for room in session().scalars(select(Room).where(Room.shop_id == shop_id))}
    sensors = {row.id: row.name for row in session().scalars(select(Sensor).where(Sensor.shop_id == shop_id))}
    return render_template("shops/readings.html", form=form, page=page_of(wanted), rooms=rooms, sensors=sensors)
