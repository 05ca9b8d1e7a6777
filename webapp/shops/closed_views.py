"""Days on which the shop is shut."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.shops.actions import this_shop
from webapp.shops.forms import ClosedForm
from webapp.shops.models import Closed
from webapp.web import guard, once
from webapp.web.paging import page_of

part = Blueprint("closed", __name__, url_prefix="/shop/closed")


@part.get("")
@guard.owner
def index() -> str:
    """Show the days on which the shop is shut."""
    return _page(ClosedForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Shut the shop on some days."""
    form = ClosedForm(request.form)
    if not form.validate():
        return _page(form), 422
    first, last = form.first_on.data, form.last_on.data or form.first_on.data
    session().add(Closed(shop_id=this_shop().id, first_on=first, last_on=last, note=form.note.data or ""))
    location = once.keep(url_for("shops.closed.index"))
    session().commit()
    return redirect(location, 303)


@part.post("/<int:key>/delete")
@guard.owner
def delete(key: int) -> ResponseReturnValue:
    """Open on these days after all."""
    session().delete(guard.mine(Closed, key))
    flash("Open on these days as usual.")
    session().commit()
    return redirect(url_for("shops.closed.index"), 303)


def _page(form: ClosedForm) -> str:
    wanted = select(Closed).where(Closed.shop_id == guard.visitor().shop.id)
    page = page_of(wanted.order_by(Closed.first_on.desc(), Closed.id.desc()))
    return render_template("shops/closed.html", form=form, page=page)
