"""Hours on single days beside the weekly ones."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.shops.actions import this_shop
from webapp.shops.forms import ExtraForm
from webapp.shops.models import Extra
from webapp.shops.week import clock
from webapp.web import guard, once
from webapp.web.paging import page_of

part = Blueprint("extra", __name__, url_prefix="/shop/extra")


@part.get("")
@guard.owner
def index() -> str:
    """Show the extra hours."""
    return _page(ExtraForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Open on a day beside the weekly hours."""
    form = ExtraForm(request.form)
    if not form.validate():
        return _page(form), 422
    extra = Extra(shop_id=this_shop().id)
    form.populate_obj(extra)
    session().add(extra)
    location = once.keep(url_for("shops.extra.index"))
    session().commit()
    return redirect(location, 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Keep to the weekly hours on that day."""
    session().delete(guard.mine(Extra, key))
    flash("Back to the weekly hours on that day.")
    session().commit()
    return redirect(url_for("shops.extra.index"), 303)


def _page(form: ExtraForm) -> str:
    wanted = select(Extra).where(Extra.shop_id == guard.visitor().shop.id)
    page = page_of(wanted.order_by(Extra.on_day.desc(), Extra.opens.desc(), Extra.id.desc()))
    return render_template("shops/extra.html", form=form, page=page, clock=clock)
