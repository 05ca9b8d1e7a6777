"""The shop's own page, beginning a shop, and going from one to another."""

from flask import Blueprint, abort, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.people import actions as people
from webapp.people.models import Person
from webapp.shops import (
    account_views,
    air_views,
    api_views,
    climate_views,
    closed_views,
    details_views,
    equipment_views,
    extra_views,
    hours_views,
    joining_views,
    maker_hours_views,
    maker_views,
    rate_views,
    reading_views,
    room_views,
    sensor_views,
)
from webapp.shops import actions as shops
from webapp.shops.air import ago, air_words, is_still
from webapp.shops.forms import ReadingForm, StartForm
from webapp.shops.models import Closed, Extra, Shop
from webapp.shops.week import in_words, lay_out
from webapp.shops.zones import here
from webapp.web import guard, once
from webapp.web.clock import now, today

room = Blueprint("shops", __name__)
for noun in (
    details_views,
    hours_views,
    closed_views,
    extra_views,
    maker_views,
    maker_hours_views,
    rate_views,
    account_views,
    joining_views,
    equipment_views,
    room_views,
    climate_views,
    reading_views,
    air_views,
    sensor_views,
    api_views,
):
    room.register_blueprint(noun.part)
room.add_app_template_filter(air_words, "air")
room.add_app_template_filter(ago)


@room.get("/shop")
@guard.owner
def show() -> str:
    """Show the shop and all its settings."""
    shop = shops.this_shop()
    on = today(shop.time_zone)
    closed = select(Closed).where(Closed.shop_id == shop.id, Closed.last_on >= on)
    extra = select(Extra).where(Extra.shop_id == shop.id, Extra.on_day >= on)
    form = ReadingForm()
    form.offer(shop.rooms)
    form.stopped.data = is_still()
    return render_template(
        "shops/show.html",
        shop=shop,
        week=lay_out(shop.openings),
        closed=session().scalars(closed.order_by(Closed.first_on, Closed.id)).all(),
        extra=session().scalars(extra.order_by(Extra.on_day, Extra.opens)).all(),
        makers=[row for row in shop.makers if row.left_on is None],
        on=on,
        in_words=in_words,
        reading=shops.reading_now(session(), shop.id, now()),
        form=form,
        others=[row for row in shops.shops_of(session(), guard.visitor().person_id) if row.id != shop.id],
    )


@room.get("/start")
@guard.public
def start() -> ResponseReturnValue:
    """Ask what a new shop needs to know."""
    if not _may_start():
        return redirect(url_for("people.sign_in", next=url_for("shops.start")), 303)
    form = StartForm(time_zone=here(), currency="USD", length_unit="in", temperature_unit="F")
    if g.visitor is not None:
        form.maker.data = g.visitor.name
    return render_template("shops/start.html", form=form, is_guessing=True)


@room.post("/start")
@guard.public
@once.once
def create() -> ResponseReturnValue:
    """Begin a shop; on its own computer the very first visitor becomes its owner without a password."""
    if not _may_start():
        abort(403)
    if g.visitor is None and not people.comes_first(session()):
        return redirect(once.answered() or abort(403), 303)
    form = StartForm(request.form)
    person = _starter(form) if form.validate() else None
    if person is None:
        return render_template("shops/start.html", form=form, is_guessing=False), 422
    shop = Shop()
    form.populate_obj(shop)
    shops.new_shop(session(), shop, person, now())
    shops.enter(shop)
    flash(f"{shop.name} stands. When is it open?")
    location = once.keep(url_for("shops.hours.edit", next="/"))
    session().commit()
    return redirect(location, 303)


def _may_start() -> bool:
    return g.visitor is not None or (people.is_on_this_computer() and not people.is_anybody(session()))


def _starter(form: StartForm) -> Person | None:
    """Return the owner to be: who is signed in, under the name that was typed, or the first account of this server."""
    name = str(form.maker.data)
    if g.visitor is None:
        person = people.add_person(session(), name, None, now())
        people.begin(session(), person, now())
        return person
    person = session().get_one(Person, g.visitor.person_id)
    if people.rename(session(), person, name):
        return person
    form.maker.errors = ("Somebody on this server has that name already. Add your second name, say.",)
    return None


@room.post("/shops/<int:key>/enter")
@guard.signed_in
def enter(key: int) -> ResponseReturnValue:
    """Go into another shop one works in."""
    shop = next((row for row in shops.shops_of(session(), guard.visitor().person_id) if row.id == key), None)
    if shop is None:
        abort(404)
    shops.enter(shop)
    return redirect("/", 303)
