"""The tins of a product: noted by whoever stands before them, and gone when they are empty."""

from datetime import date

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.products.models import Product, Tin
from webapp.products.tins_form import TinForm
from webapp.web import once, versions
from webapp.web.clock import today
from webapp.web.guard import mine, visitor

part = Blueprint("tins", __name__)


@part.get("/products/<int:product_id>/tins/new")
def new(product_id: int) -> str:
    """Ask what stands on a tin."""
    return _new(mine(Product, product_id), TinForm(opened_on=_today()))


@part.post("/products/<int:product_id>/tins/new")
@once.once
def create(product_id: int) -> ResponseReturnValue:
    """Note a tin."""
    product, form = mine(Product, product_id), TinForm(request.form)
    if not form.validate():
        return _new(product, form), 422
    tin = Tin(shop_id=product.shop_id, product_id=product.id)
    form.populate_obj(tin)
    session().add(tin)
    location = once.keep(_place(product.id))
    session().commit()
    return redirect(location, 303)


@part.get("/tins/<int:tin_id>/edit")
def edit(tin_id: int) -> str:
    """Show what stands on a tin to change it."""
    tin = mine(Tin, tin_id)
    return _edit(tin, TinForm(obj=tin))


@part.post("/tins/<int:tin_id>/edit")
def update(tin_id: int) -> ResponseReturnValue:
    """Change what stands on a tin."""
    tin, form = mine(Tin, tin_id), TinForm(request.form)
    if not form.validate():
        return _edit(tin, form), 422
    if versions.is_stale(form, tin):
        return _edit(tin, form, versions.differences(form, TinForm(obj=tin))), 409
    form.populate_obj(tin)
    location = _place(tin.product_id)
    session().commit()
    return redirect(location, 303)


@part.post("/tins/<int:tin_id>/gone")
def empty(tin_id: int) -> ResponseReturnValue:
    """Say that a tin is used up or thrown away."""
    return _set_gone(mine(Tin, tin_id), gone=True)


@part.post("/tins/<int:tin_id>/gone/delete")
def bring_back(tin_id: int) -> ResponseReturnValue:
    """Say that a tin is there after all."""
    return _set_gone(mine(Tin, tin_id), gone=False)


def _set_gone(tin: Tin, *, gone: bool) -> ResponseReturnValue:
    tin.gone_on = (tin.gone_on or _today()) if gone else None
    flash("That tin is gone." if gone else "That tin is there again.")
    location = _place(tin.product_id)
    session().commit()
    return redirect(location, 303)


def _today() -> date:
    return today(str(visitor().zone))


def _place(product_id: int) -> str:
    return url_for("products.show", product_id=product_id, _anchor="tins")


def _new(product: Product, form: TinForm) -> str:
    return render_template("products/tins/new.html", product=product, form=form)


def _edit(tin: Tin, form: TinForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    product = mine(Product, tin.product_id)
    return render_template("products/tins/edit.html", product=product, tin=tin, form=form, differences=differences)
