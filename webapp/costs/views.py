"""Money, build by build: for owners."""

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.builds.models import Build
from webapp.costs.actions import cost_sheet, cost_sheets, payments_of, share_again, terms_of
from webapp.costs.forms import PaymentsForm, TermsForm
from webapp.costs.models import Payment, Terms
from webapp.db.session import session
from webapp.shops.models import Maker
from webapp.web import guard, versions
from webapp.web.clock import now, today
from webapp.web.guard import mine, visitor
from webapp.web.paging import page_of

room = Blueprint("costs", __name__)

OPEN = ("enquiry", "quoted", "agreed", "in the making", "delivered", "aftercare")


@room.get("/costs")
@guard.owner
def index() -> str:
    """List the open builds: price, cost so far, what was paid."""
    shop_id = visitor().shop.id
    wanted = select(Build).where(Build.shop_id == shop_id, Build.status.in_(OPEN)).order_by(Build.id.desc())
    page = page_of(wanted)
    ids = [build.id for build in page.rows]
    payments = session().scalars(select(Payment).where(Payment.build_id.in_(ids))).all()
    paid = {build_id: sum(p.amount_minor for p in payments if p.build_id == build_id and p.paid_on) for build_id in ids}
    sheets = cost_sheets(session(), page.rows, now())
    return render_template("costs/index.html", page=page, sheets=sheets, paid=paid)


@room.get("/builds/<int:build_id>/costs")
@guard.owner
def show(build_id: int) -> str:
    """Show the cost sheet of a build, its price and its payments."""
    build = mine(Build, build_id)
    makers = session().scalars(select(Maker).where(Maker.shop_id == build.shop_id))
    payments = payments_of(session(), build)
    return render_template(
        "costs/show.html",
        build=build,
        sheet=cost_sheet(session(), build, now()),
        names={maker.id: maker.name for maker in makers},
        payments=payments,
        paid=sum(payment.amount_minor for payment in payments if payment.paid_on),
    )


@room.get("/builds/<int:build_id>/terms/edit")
@guard.owner
def edit_terms(build_id: int) -> str:
    """Show the form for the price and the consumables."""
    build = mine(Build, build_id)
    return _terms_page(build, TermsForm(obj=terms_of(session(), build)))


@room.post("/builds/<int:build_id>/terms/edit")
@guard.owner
def update_terms(build_id: int) -> ResponseReturnValue:
    """Store the price; the payments follow it."""
    build = mine(Build, build_id)
    terms, form = terms_of(session(), build), TermsForm(request.form)
    if not form.validate():
        return _terms_page(build, form), 422
    if terms.id and versions.is_stale(form, terms):
        return _terms_page(build, form, versions.differences(form, TermsForm(obj=terms))), 409
    terms.price_minor = form.price_minor.data
    terms.consumables_percent = form.consumables_percent.data
    terms.consumables_minor = form.consumables_minor.data
    session().add(terms)
    share_again(payments_of(session(), build), terms.price_minor)
    session().commit()
    return redirect(url_for("costs.show", build_id=build.id), 303)


def _terms_page(build: Build, form: TermsForm, meanwhile: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("costs/terms.html", build=build, form=form, differences=meanwhile)


@room.get("/builds/<int:build_id>/payments/edit")
@guard.owner
def edit_payments(build_id: int) -> str:
    """Show the form for the parts the price is paid in."""
    build = mine(Build, build_id)
    return _payments_page(build, PaymentsForm.of(payments_of(session(), build)))


@room.post("/builds/<int:build_id>/payments/edit")
@guard.owner
def update_payments(build_id: int) -> ResponseReturnValue:
    """Store the parts; those that were paid keep their amount and their day."""
    build = mine(Build, build_id)
    form = PaymentsForm(request.form)
    if not form.validate():
        return _payments_page(build, form), 422
    before = payments_of(session(), build)
    wanted = form.filled()
    lost = [payment for payment in before[len(wanted) :] if payment.paid_on]
    if lost:
        form.rows.entries[before.index(lost[0])].form.name.errors = [
            f"“{lost[0].name}” was paid: it cannot be left out."
        ]
        return _payments_page(build, form), 422
    for payment in before[len(wanted) :]:
        session().delete(payment)
    kept = before[: len(wanted)]
    for position, (name, percent) in enumerate(wanted):
        if position == len(kept):
            kept.append(Payment(shop_id=build.shop_id, build_id=build.id, position=position, amount_minor=0))
        kept[position].name, kept[position].percent, kept[position].position = name, percent, position
    session().add_all(kept)
    share_again(kept, terms_of(session(), build).price_minor)
    session().commit()
    return redirect(url_for("costs.show", build_id=build.id), 303)


def _payments_page(build: Build, form: PaymentsForm) -> str:
    priced = session().scalar(select(Terms.price_minor).where(Terms.build_id == build.id))
    return render_template("costs/payments.html", build=build, form=form, price=priced)


@room.post("/payments/<int:payment_id>/paid")
@guard.owner
def paid(payment_id: int) -> ResponseReturnValue:
    """Note that a part came in today."""
    payment = mine(Payment, payment_id)
    payment.paid_on = payment.paid_on or today(str(visitor().shop.zone))
    session().commit()
    return redirect(url_for("costs.show", build_id=payment.build_id), 303)


@room.post("/payments/<int:payment_id>/paid/delete")
@guard.owner
def unpaid(payment_id: int) -> ResponseReturnValue:
    """Take back that a part came in."""
    payment = mine(Payment, payment_id)
    payment.paid_on = None
    session().flush()
    share_again(payments_of(session(), payment.build), terms_of(session(), payment.build).price_minor)
    session().commit()
    return redirect(url_for("costs.show", build_id=payment.build_id), 303)
