"""Money, build by build: for owners."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.builds.models import Build
from webapp.costs.actions import cost_sheet, cost_sheets, payments_of, set_price, terms_of
from webapp.costs.forms import MarginForm, PaidForm, TermsForm
from webapp.costs.models import Payment, Terms
from webapp.costs.payment_views import room as payments
from webapp.costs.sheet import Sheet, price_for_margin, price_for_mark_up
from webapp.db.session import session
from webapp.shops.models import Maker
from webapp.web import guard, versions
from webapp.web.clock import now, today
from webapp.web.guard import mine, visitor
from webapp.web.paging import page_of

room = Blueprint("costs", __name__)
room.register_blueprint(payments)

OPEN = ("enquiry", "quoted", "agreed", "in the making", "delivered", "aftercare")


@room.get("/costs")
@guard.owner
def index() -> str:
    """List the open builds: price, cost so far, what came in and what is still to come."""
    shop_id = visitor().shop.id
    wanted = select(Build).where(Build.shop_id == shop_id, Build.status.in_(OPEN)).order_by(Build.id.desc())
    page = page_of(wanted)
    ids = [build.id for build in page.rows]
    paid = dict.fromkeys(ids, 0)
    for part in session().scalars(select(Payment).where(Payment.build_id.in_(ids), Payment.paid_on.is_not(None))):
        paid[part.build_id] += part.amount_minor
    sheets = cost_sheets(session(), page.rows, now())
    return render_template("costs/index.html", page=page, sheets=sheets, paid=paid)


@room.get("/builds/<int:build_id>/costs")
@guard.owner
def show(build_id: int) -> str:
    """Show the cost sheet of a build, its price and its payments."""
    build = mine(Build, build_id)
    makers = session().scalars(select(Maker).where(Maker.shop_id == build.shop_id))
    parts = payments_of(session(), build)
    sheet = cost_sheet(session(), build, now())
    form = MarginForm(request.args)
    return render_template(
        "costs/show.html",
        build=build,
        sheet=sheet,
        names={maker.id: maker.name for maker in makers},
        payments=parts,
        paid=sum(part.amount_minor for part in parts if part.paid_on),
        paid_form=PaidForm(data={"paid_on": today(str(visitor().shop.zone))}),
        form=form,
        prices=_prices(form, sheet) if "percent" in request.args and form.validate() else None,
    )


def _prices(form: MarginForm, sheet: Sheet) -> tuple[int, int]:
    percent = form.percent.data
    return price_for_margin(sheet.total_minor, percent), price_for_mark_up(sheet.total_minor, percent)


@room.get("/builds/<int:build_id>/terms/edit")
@guard.owner
def edit_terms(build_id: int) -> str:
    """Show the form for the price and the consumables."""
    build = mine(Build, build_id)
    return _terms_page(build, TermsForm(obj=terms_of(session(), build)))


@room.post("/builds/<int:build_id>/terms/edit")
@guard.owner
def update_terms(build_id: int) -> ResponseReturnValue:
    """Store the price and how consumables count; the payments follow the price."""
    build = mine(Build, build_id)
    terms, form = terms_of(session(), build), TermsForm(request.form)
    if not _is_right(form, build):
        return _terms_page(build, form), 422
    if terms in session() and versions.is_stale(form, terms):
        return _terms_page(build, form, versions.differences(form, TermsForm(obj=terms))), 409
    _fill(terms, form)
    set_price(session(), build, terms)
    session().commit()
    return redirect(url_for("costs.show", build_id=build_id), 303)


def _is_right(form: TermsForm, build: Build) -> bool:
    right = form.validate()
    if right and form.price_minor.data is None and payments_of(session(), build):
        form.price_minor.errors = ["The price is split into parts already. Give the new price."]
        return False
    return right


def _fill(terms: Terms, form: TermsForm) -> None:
    terms.price_minor = form.price_minor.data
    terms.consumables_percent = form.consumables_percent.data
    terms.consumables_minor = form.consumables_minor.data


def _terms_page(build: Build, form: TermsForm, differences: Any = None) -> str:
    return render_template("costs/terms.html", build=build, form=form, differences=differences)
