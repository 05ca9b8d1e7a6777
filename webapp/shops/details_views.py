"""Name, place and units of the shop."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.shops.actions import this_shop
from webapp.shops.forms import DetailsForm
from webapp.shops.models import Shop
from webapp.shops.seen import Seen, seen
from webapp.trade.money import exponent
from webapp.web import guard, versions

part = Blueprint("details", __name__, url_prefix="/shop/details")


@part.get("")
@guard.owner
def edit() -> str:
    """Show name, place and units to change them."""
    return _page(_form(this_shop()))


@part.post("")
@guard.owner
def update() -> ResponseReturnValue:
    """Set name, place and units."""
    shop, form = this_shop(lock=True), DetailsForm(request.form)
    if not form.validate() or not _is_currency_right(form, shop):
        return _page(form), 422
    if versions.is_stale(form, _seen(shop)):
        return _page(form, versions.differences(form, _form(shop))), 409
    form.populate_obj(shop)
    flash("Saved.")
    session().commit()
    return redirect(url_for("shops.show"), 303)


def _form(shop: Shop) -> DetailsForm:
    form = DetailsForm(obj=shop)
    form.version.data = _seen(shop).version
    return form


def _seen(shop: Shop) -> Seen:
    return seen(shop.name, shop.time_zone, shop.currency, shop.length_unit, shop.temperature_unit)


def _is_currency_right(form: DetailsForm, shop: Shop) -> bool:
    """Amounts are stored in whole cents or the like: with other decimals each would become another amount."""
    wanted = str(form.currency.data)
    if exponent(wanted) == exponent(shop.currency):
        return True
    said = (
        f"{wanted} has another number of decimals than {shop.currency}, and what is noted would change its worth. "
        f"Start another shop for {wanted}."
    )
    form.currency.errors = (said,)
    return False


def _page(form: DetailsForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    return render_template("shops/details.html", form=form, differences=differences)
