"""What an hour of a maker costs, from a day on: work is costed at the rate of its day."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import this_maker
from webapp.shops.forms import RateForm
from webapp.shops.maker_views import page_of_maker
from webapp.shops.models import Rate
from webapp.web import guard

part = Blueprint("rates", __name__, url_prefix="/shop/makers/<int:key>/rates")


@part.post("")
@guard.owner
def create(key: int) -> ResponseReturnValue:
    """Set a rate from a day on; a second one from the same day takes the place of the first."""
    maker, form = this_maker(key), RateForm(request.form)
    if not form.validate():
        return render_template("shops/maker.html", **page_of_maker(maker, rate_form=form)), 422
    same = next((rate for rate in maker.rates if rate.from_on == form.from_on.data), None)
    if same is None:
        maker.rates.append(Rate(from_on=form.from_on.data, hour_minor=form.hour.data))
    else:
        same.hour_minor = form.hour.data
    flash("The rate is set.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


@part.post("/<int:rate_id>/delete")
@guard.owner
def delete(key: int, rate_id: int) -> ResponseReturnValue:
    """Take back a rate: the one before it holds on."""
    maker = this_maker(key)
    rate = next((row for row in maker.rates if row.id == rate_id), None) or abort(404)
    maker.rates.remove(rate)
    flash("That rate is gone.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)
