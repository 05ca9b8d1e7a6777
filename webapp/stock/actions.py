"""What is asked of the lines of bills, and how a form becomes one."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session, selectinload

from webapp.builds.models import Build
from webapp.photos import actions as photos
from webapp.photos.intake import Batch
from webapp.stock.forms import MaterialForm
from webapp.stock.measure import Measured, measure
from webapp.stock.models import Material
from webapp.trade import lengths, money
from webapp.trade.lengths import Length

SHUT = ("closed", "lost")  # builds that nothing is bought for any more
SIZES = ("thickness", "width", "length")


def lines(shop_id: int, build: Build | None = None, *, shelf: bool = False) -> Select[Material]:
    """Return the lines of a shop, of one build or of the shelf, newest first."""
    wanted = select(Material).where(Material.shop_id == shop_id)
    if build is not None:
        wanted = wanted.where(Material.build_id == build.id)
    elif shelf:
        wanted = wanted.where(Material.build_id.is_(None))
    return wanted.options(selectinload(Material.build), selectinload(Material.receipt)).order_by(
        Material.bought_on.desc(), Material.id.desc()
    )


def sum_of(db: Session, query: Select[Material], since: date | None = None) -> tuple[int, int]:
    """Return how many lines these are from a day on, and what they cost together."""
    if since is not None:
        query = query.where(Material.bought_on >= since)
    found = query.order_by(None).subquery()
    count, total = db.execute(select(func.count(), func.coalesce(func.sum(found.c.total_minor), 0))).one()
    return count, int(total)


def open_builds(db: Session, shop_id: int, also: int | None = None) -> list[tuple[int, str]]:
    """Return (id, name) of the builds something may be bought for, with one that may be shut."""
    wanted = select(Build.id, Build.name).where(
        Build.shop_id == shop_id, Build.status.not_in(SHUT) | (Build.id == (also or 0))
    )
    return [(key, name) for key, name in db.execute(wanted.order_by(Build.name, Build.id))]


def fill(material: Material, form: MaterialForm) -> None:
    """Put what was typed into the line. The sum is rounded half up, once."""
    for name in ("kind", "name", "quantity", "unit", "unit_price", "bought_on", "pieces"):
        setattr(material, name, form[name].data)
    material.supplier, material.note = form.supplier.data or "", form.note.data or ""
    for name in SIZES:
        size = form[name].data
        setattr(material, f"{name}_typed", size.entered if size else "")
    material.build_id = int(form.build.data) if form.build.data else None
    assert form.total is not None
    material.total_minor = form.total


def add_receipt(db: Session, material: Material, batch: Batch, maker_id: int | None, now: datetime) -> None:
    """Put a stored picture with the line. It is the shop's, so that it does not stand among those of the piece."""
    if batch.received:
        what = f"Receipt: {material.name}"
        added = photos.add(db, batch.received, now=now, shop_id=material.shop_id, maker_id=maker_id, caption=what)
        material.receipt = added[0]


def typed(material: Material) -> dict[str, Any]:
    """Return a line as the form shows it."""
    names = ("kind", "name", "quantity", "unit", "unit_price", "bought_on", "supplier", "note", "pieces", "version")
    return {
        **{name: getattr(material, name) for name in names},
        **{name: size(material, name) for name in SIZES},
        "build": str(material.build_id or ""),
    }


def size(material: Material, name: str) -> Length | None:
    """Return one size of a line; what is kept always says its unit, so the unit given here plays no part."""
    entered = getattr(material, f"{name}_typed")
    return lengths.read(entered, "in", nominal=name == "thickness") if entered else None


def billed(material: Material, currency: str) -> str:
    """Return what the bill says: 12.5 bd ft at $7.25."""
    minor = material.unit_price.scaleb(money.exponent(currency))
    whole = minor == minor.to_integral_value()
    price = money.show_money(int(minor), currency) if whole else f"{material.unit_price.normalize():f} {currency}"
    return f"{material.quantity.normalize():f} {material.unit} at {price}"


def measured(material: Material) -> Measured | None:
    """Return what the sizes of a line make in board feet."""
    return measure(material.pieces or 1, *(size(material, name) for name in SIZES))
