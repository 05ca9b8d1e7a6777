"""What is done with products: filling a new shop, a new version of figures, another name, the ones to choose from."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, select
from sqlalchemy.orm import Session, selectinload
from sqlalchemy.orm.attributes import flag_modified

from webapp.products.models import Figures, Product
from webapp.shops.models import Shop
from webapp.trade.cautions.work import Caution, caution, for_product
from webapp.trade.products.families import USUAL


def seed(db: Session, shop: Shop, at: datetime) -> None:
    """Give a new shop the usual generic glues and finishes, each with where its figures come from."""
    for one in USUAL:
        product = Product(shop_id=shop.id, name=one.name, family=one.family, use=one.use)
        day = date.fromisoformat(one.source_date)
        product.figures.append(Figures(number=1, data=one.data(), source=one.source, source_on=day, at=at))
        db.add(product)


def products(shop_id: int, *, retired: bool = False) -> Select[Product]:
    """Return the products of a shop that are in use, or those that are not any more."""
    return (
        select(Product)
        .where(Product.shop_id == shop_id, Product.retired.is_(retired))
        .options(selectinload(Product.figures))
    )


def instead(db: Session, product: Product, celsius: float) -> list[tuple[Product, float]]:
    """Return the other products of the same use that stand this cold, with how cold each may get, °C."""
    found = db.scalars(products(product.shop_id).where(Product.use == product.use, Product.id != product.id))
    known = ((one, one.current.data.get("lowest")) for one in found)
    return sorted(((one, lowest) for one, lowest in known if lowest is not None and lowest <= celsius), key=_lowest)


def _lowest(found: tuple[Product, float]) -> tuple[float, str]:
    return found[1], found[0].name


def layers(db: Session, shop_id: int) -> list[str]:
    """Return what another layer may lie over: the families and names of the shop's products."""
    rows = db.execute(select(Product.family, Product.name).where(Product.shop_id == shop_id)).all()
    return sorted({word for row in rows for word in row})


def renew(product: Product, figures: Figures) -> None:
    """Add a version of the figures, unless nothing about them is new. The product counts as changed either way."""
    if product.id:
        flag_modified(product, "family")
    if product.figures and _same(product.current, figures):
        return
    figures.number = product.current.number + 1 if product.figures else 1
    product.figures.append(figures)


def _same(one: Figures, other: Figures) -> bool:
    return (one.data, one.source, one.source_on) == (other.data, other.source, other.source_on)


def rename(db: Session, product: Product, name: str) -> None:
    """Give a product another name, also where other products say how they go over it."""
    old, product.name = product.name, name
    if old in {None, name, product.family}:
        return
    for figures in db.scalars(select(Figures).join(Product).where(Product.shop_id == product.shop_id)):
        over = figures.data.get("recoat_over") or {}
        if old in over:
            figures.data = {**figures.data, "recoat_over": _renamed(over, old, name)}


def _renamed(over: dict[str, Any], old: str, name: str) -> dict[str, Any]:
    return {name if layer == old else layer: windows for layer, windows in over.items()}


def cautions(product: Product) -> list[Caution]:
    """Return the cautions that go with a product or its family, the gravest first."""
    return [caution(key) for key in for_product(product.name, product.family)]
