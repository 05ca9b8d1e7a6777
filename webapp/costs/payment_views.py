"""The parts a price is paid in: how it is split, and when they came in."""

from decimal import Decimal
from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build
from webapp.costs.actions import payments_of, set_price, split, terms_of
from webapp.costs.forms import PaidForm, PartsForm, PaymentsForm
from webapp.costs.models import Payment, Terms
from webapp.db.session import session
from webapp.web import guard, versions
from webapp.web.guard import mine
from webapp.web.rows import typed

room = Blueprint("payments", __name__)


@room.get("/builds/<int:build_id>/payments/edit")
@guard.owner
def edit(build_id: int) -> ResponseReturnValue:
    """Show the form for the parts that have not come in."""
    build = mine(Build, build_id)
    terms = terms_of(session(), build)
    if terms.price_minor is None:
        return _price_first(build)
    return _page(build, terms, _form_of(build, terms))


@room.post("/builds/<int:build_id>/payments/edit")
@guard.owner
def update(build_id: int) -> ResponseReturnValue:
    """Store the parts; those that came in keep their amount and their day."""
    build = mine(Build, build_id)
    terms, form = terms_of(session(), build), PartsForm(request.form)
    if terms.price_minor is None:
        return _price_first(build)
    paid = [part for part in payments_of(session(), build) if part.paid_on]
    if not form.is_right(sum((part.percent for part in paid), Decimal(0))):
        return _page(build, terms, form), 422
    if versions.is_stale(form, terms):
        return _page(build, terms, form, versions.differences(form, _form_of(build, terms))), 409
    split(session(), build, terms, form.wanted())
    session().commit()
    return redirect(url_for("costs.show", build_id=build_id), 303)


@room.post("/payments/<int:payment_id>/paid")
@guard.owner
def paid(payment_id: int) -> ResponseReturnValue:
    """Note on which day a part came in."""
    part = mine(Payment, payment_id)
    form = PaidForm(request.form)
    if not form.validate():
        return render_template("costs/paid.html", part=part, form=form), 422
    part.paid_on = form.paid_on.data
    build_id = part.build_id
    session().commit()
    return redirect(url_for("costs.show", build_id=build_id), 303)


@room.post("/payments/<int:payment_id>/paid/delete")
@guard.owner
def unpaid(payment_id: int) -> ResponseReturnValue:
    """Take back that a part came in; the open parts are shared out again."""
    part = mine(Payment, payment_id)
    part.paid_on = None
    build = part.build
    session().flush()
    set_price(session(), build, terms_of(session(), build))
    location = url_for("costs.show", build_id=build.id)
    session().commit()
    return redirect(location, 303)


def _price_first(build: Build) -> ResponseReturnValue:
    flash("Set the price first, then split it.")
    return redirect(url_for("costs.edit_terms", build_id=build.id), 303)


def _form_of(build: Build, terms: Terms) -> PaymentsForm:
    rows = [{"name": part.name, "percent": part.percent} for part in payments_of(session(), build) if not part.paid_on]
    return PartsForm(data={"version": terms.version, **typed("part", rows)})


def _page(build: Build, terms: Terms, form: PaymentsForm, differences: Any = None) -> str:
    paid = [part for part in payments_of(session(), build) if part.paid_on]
    return render_template(
        "costs/payments.html", build=build, form=form, price=terms.price_minor, paid=paid, differences=differences
    )
