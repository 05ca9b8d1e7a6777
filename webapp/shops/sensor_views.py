"""Sensors that note the air by themselves: each has a token, which is shown once and can be revoked."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask import session as cookie
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.people.actions import hashed
from webapp.shops.actions import this_shop
from webapp.shops.forms import SensorForm
from webapp.shops.models import Sensor
from webapp.shops.sensors import give_token
from webapp.web import guard, once
from webapp.web.clock import now

part = Blueprint("sensors", __name__, url_prefix="/shop/sensors")
SHOWN_ONCE = "sensor"  # the token of the one just made lies in the owner's own cookie until the page shows it


@part.get("")
@guard.owner
def index() -> str:
    """Show the sensors, and the token of the one just made."""
    return _page(_form(), str(cookie.pop(SHOWN_ONCE, "")))


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add a sensor and make its token."""
    form = _form()
    if not form.validate() or not _is_free(form):
        return _page(form), 422
    row = Sensor(shop_id=this_shop().id, name=form.name.data, room_id=form.room, token_hash="", made_at=now())
    session().add(row)
    session().flush()
    cookie[SHOWN_ONCE] = give_token(row)
    location = once.keep(url_for("shops.sensors.index"))
    session().commit()
    return redirect(location, 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Take its token from a sensor; what it read stays."""
    row = guard.mine(Sensor, key)
    name = row.name
    session().delete(row)
    flash(f"{name}: nothing more is taken from it. Its readings stay.")
    session().commit()
    return redirect(url_for("shops.sensors.index"), 303)


def _form() -> SensorForm:
    form = SensorForm(request.form)
    form.offer(this_shop().rooms)
    return form


def _is_free(form: SensorForm) -> bool:
    if not guard.is_taken(Sensor, form.name.data):
        return True
    form.name.errors = ("There is a sensor of that name already. For a new token, revoke it and add it anew.",)
    return False


def _page(form: SensorForm, token: str = "") -> str:
    shop = this_shop()
    sensors = session().scalars(select(Sensor).where(Sensor.shop_id == shop.id).order_by(Sensor.name)).all()
    return render_template(
        "shops/sensors.html",
        form=form,
        sensors=sensors,
        rooms={room.id: room.name for room in shop.rooms},
        token=token,
        new=next((row for row in sensors if token and row.token_hash == hashed(token)), None),
        address=url_for("shops.api.create", _external=True),
        unit=shop.temperature_unit,
    )
