"""The glues and finishes of the shop."""

from collections.abc import Iterable
from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.folding import fold
from webapp.db.session import session
from webapp.products.actions import cautions, instead, layers, products, rename, renew
from webapp.products.checks import is_right
from webapp.products.forms import ProductForm
from webapp.products.meaning import Meaning, meaning
from webapp.products.models import FINISH, GLUE, Figures, Product
from webapp.products.now_form import NowForm
from webapp.products.reading import figures_of, keep_unchanged, product_form, typed_figures, typed_of
from webapp.products.room_air import room_air
from webapp.products.tins import gone_of, look, tin_words, tins_of
from webapp.products.tins_views import part as tins
from webapp.products.words import changes, in_short, say, water
from webapp.shops.actions import this_shop
from webapp.trade.products.families import FAMILIES, NOTHING_KNOWN
from webapp.web import guard, once, versions
from webapp.web.clock import now, today
from webapp.web.filters import local
from webapp.web.guard import mine, visitor
from webapp.web.rows import complain

room = Blueprint("products", __name__)
room.register_blueprint(tins)


@room.get("/products")
def index() -> str:
    """List the glues and finishes, or those not used any more."""
    retired = "retired" in request.args
    rows = sorted(session().scalars(products(visitor().shop.id, retired=retired)), key=lambda row: fold(row.name))
    unit, old = visitor().shop.temperature_unit, _with_old_tins(rows)
    lists = [
        (title, [(row, in_short(row.current.data, unit), row.id in old) for row in rows if row.use == use])
        for use, title in ((GLUE, "Glues"), (FINISH, "Finishes"))
    ]
    gone = select(Product.id).where(Product.shop_id == visitor().shop.id, Product.retired.is_(True)).limit(1)
    has_retired = retired or session().scalar(gone) is not None
    return render_template("products/index.html", lists=lists, rows=rows, retired=retired, has_retired=has_retired)


def _with_old_tins(rows: Iterable[Product]) -> set[int]:
    """The products with a tin that something is wrong with."""
    tins = tins_of(session(), [row.id for row in rows])
    looked = ((row.id, look(row.name, row.family, tins[row.id], local(now()))) for row in rows)
    return {key for key, found in looked if any(one.faults for one in found)}


@room.get("/products/<int:product_id>")
def show(product_id: int) -> ResponseReturnValue:
    """Show a product: what its figures say and mean now in a room, where they come from, and what they were."""
    product = mine(Product, product_id)
    shop, form = this_shop(), NowForm(request.args)
    form.offer(shop.rooms)
    unit, is_right = visitor().shop.temperature_unit, form.validate()
    found = meaning(product.name, product.family, product.use, product.current.data, room_air(shop, form, now()))
    page = render_template(
        "products/show.html",
        product=product,
        form=form,
        means=found,
        instead=_instead(product, found),
        said=[*say(product.current.data, unit), *water(product)],
        versions=changes(product, unit),
        cautions=cautions(product),
        makers={None: "", **{maker.id: maker.name for maker in shop.makers}},
        tins=look(product.name, product.family, tins_of(session(), {product.id})[product.id], local(now())),
        gone=[(tin, tin_words(tin)) for tin in gone_of(session(), product.id)],
    )
    return page if is_right else (page, 422)


def _instead(product: Product, found: Meaning) -> list[tuple[Product, float]]:
    """Other glues that would hold where this one does not. A finish is not exchanged for the cold alone."""
    if found.coldest is None or product.use != GLUE:
        return []
    return instead(session(), product, found.coldest)


@room.get("/products/new")
@guard.owner
def new() -> str:
    """Show the form for a product, blank or with the figures of a family."""
    chosen = next((one for one in FAMILIES if one.name == request.args.get("family")), None)
    data: dict[str, Any] = {**typed_figures(NOTHING_KNOWN), "source_on": today(str(visitor().shop.zone))}
    if chosen:
        data = typed_figures(chosen.figures) | {"use": chosen.use, "family": chosen.family, "source": chosen.source}
        data["source_on"] = chosen.source_date
    return _new_page(product_form(None, data))


@room.post("/products/new")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add a product with its first figures."""
    form = product_form(request.form, {})
    if not _is_right(form, None):
        return _new_page(form), 422
    product = Product(shop_id=visitor().shop.id)
    _fill(form, product)
    session().add(product)
    session().flush()
    location = once.keep(url_for("products.show", product_id=product.id))
    session().commit()
    return redirect(location, 303)


@room.get("/products/<int:product_id>/edit")
@guard.owner
def edit(product_id: int) -> str:
    """Show the form with every figure."""
    product = mine(Product, product_id)
    return _edit_page(product_form(None, typed_of(product, product.current)), product)


@room.post("/products/<int:product_id>/edit")
@guard.owner
def update(product_id: int) -> ResponseReturnValue:
    """Keep what was typed as a new version of the figures; waits that have begun keep theirs."""
    product = mine(Product, product_id)
    data = typed_of(product, product.current)
    form, saved = product_form(request.form, data), product_form(None, data)
    keep_unchanged(form, saved)
    if not _is_right(form, product):
        return _edit_page(form, product), 422
    if versions.is_stale(form, product):
        return _edit_page(form, product, versions.differences(form, saved)), 409
    _fill(form, product)
    location = url_for("products.show", product_id=product.id)
    session().commit()
    return redirect(location, 303)


@room.post("/products/<int:product_id>/retire")
@guard.owner
def retire(product_id: int) -> ResponseReturnValue:
    """Take a product off the list to choose from; where it is used it stays."""
    return _set_retired(product_id, retired=True)


@room.post("/products/<int:product_id>/retire/delete")
@guard.owner
def unretire(product_id: int) -> ResponseReturnValue:
    """Put a product back on the list."""
    return _set_retired(product_id, retired=False)


def _set_retired(product_id: int, *, retired: bool) -> ResponseReturnValue:
    mine(Product, product_id).retired = retired
    session().commit()
    return redirect(url_for("products.show", product_id=product_id), 303)


def _is_right(form: ProductForm, product: Product | None) -> bool:
    right = is_right(form, layers(session(), visitor().shop.id))
    if guard.is_taken(Product, form.name.data, product):
        complain(form.name, "There is another product of this name. Name them apart.")
        return False
    if product and not form.why.data and figures_of(form) != product.current.data:
        complain(form.why, "The figures change: say why, a new can or your own test.")
        return False
    return right


def _fill(form: ProductForm, product: Product) -> None:
    assert form.name.data
    assert form.family.data
    product.family, product.use = form.family.data, form.use.data
    figures = Figures(data=figures_of(form), source=form.source.data, source_on=form.source_on.data)
    figures.why, figures.at, figures.maker_id = form.why.data or "", now(), visitor().maker_id
    renew(product, figures)
    rename(session(), product, form.name.data)


def _choices() -> dict[str, list[str]]:
    return {
        "layers": layers(session(), visitor().shop.id),
        "families": sorted({one.family for one in FAMILIES}),
    }


def _new_page(form: ProductForm) -> str:
    return render_template("products/new.html", form=form, starts=FAMILIES, **_choices())


def _edit_page(form: ProductForm, product: Product, differences: Any = None) -> str:
    return render_template("products/edit.html", form=form, product=product, differences=differences, **_choices())
