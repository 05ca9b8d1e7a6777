"""Cost sheets from rows: bills, the hours of the journal at the rate of the day, terms. Constant queries for lists."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import BindParameter, bindparam, func, select
from sqlalchemy.orm import Session
from sqlalchemy.orm.attributes import flag_modified

from webapp.builds.models import Build
from webapp.costs.models import Payment, Terms
from webapp.costs.sheet import Labour, Sheet, consumables, labour, parts
from webapp.journal.time_sheet import lines_of
from webapp.shops.actions import shop_of
from webapp.shops.models import Maker, Rate
from webapp.stock.models import Material

CHANGE = "Change of price"
# laid out once: that takes longer than to ask
OF_BUILDS: BindParameter[Any] = bindparam("builds")
BILLS = (
    select(Material.build_id, Material.kind, func.sum(Material.total_minor))
    .where(Material.build_id.in_(OF_BUILDS))
    .group_by(Material.build_id, Material.kind)
    .order_by(Material.kind)
)
RATES = (
    select(Rate.maker_id, Rate.from_on, Rate.hour_minor)
    .join(Maker)
    .where(Maker.shop_id == bindparam("shop"))
    .order_by(Rate.from_on)
)
TERMS = select(Terms).where(Terms.build_id.in_(OF_BUILDS))


def cost_sheet(db: Session, build: Build, now: datetime) -> Sheet:
    """Return the cost sheet of one build."""
    return cost_sheets(db, [build], now)[build.id]


def cost_sheets(db: Session, builds: Collection[Build], now: datetime) -> dict[int, Sheet]:
    """Return the cost sheets of builds of one shop, by the build's id."""
    if not builds:
        return {}
    ids = [build.id for build in builds]
    shop = shop_of(db, next(iter(builds)).shop_id)
    lines = lines_of(db, shop, ids, now)
    rates = _rates(db, shop.id)
    bills = _bills(db, ids)
    terms = {row.build_id: row for row in db.scalars(TERMS, {"builds": ids})}
    found = {}
    for build_id in ids:
        people, asked = labour(lines.get(build_id, ()), rates)
        found[build_id] = _sheet(tuple(bills.get(build_id, {}).items()), people, asked, terms.get(build_id))
    return found


def _sheet(bills: tuple[tuple[str, int], ...], people: tuple[Labour, ...], asked: int, terms: Terms | None) -> Sheet:
    materials = sum(minor for _, minor in bills)
    small = consumables(materials, terms.consumables_percent, terms.consumables_minor) if terms else 0
    price = terms.price_minor if terms else None
    return Sheet(bills, people, small, price, asked)


def _rates(db: Session, shop_id: int) -> dict[int, list[tuple[date, int]]]:
    found: dict[int, list[tuple[date, int]]] = {}
    for maker_id, from_on, minor in db.execute(RATES, {"shop": shop_id}):
        found.setdefault(maker_id, []).append((from_on, minor))
    return found


def _bills(db: Session, ids: Iterable[int]) -> dict[int, dict[str, int]]:
    found: dict[int, dict[str, int]] = {}
    for build_id, kind, total in db.execute(BILLS, {"builds": list(ids)}):
        if build_id is not None:
            found.setdefault(build_id, {})[kind] = int(total)
    return found


def terms_of(db: Session, build: Build) -> Terms:
    """Return the terms of a build, new ones when it has none yet."""
    found = db.scalar(select(Terms).where(Terms.build_id == build.id))
    return found or Terms(shop_id=build.shop_id, build_id=build.id)


def payments_of(db: Session, build: Build) -> list[Payment]:
    """Return the parts of a build's price in their order."""
    return list(db.scalars(select(Payment).where(Payment.build_id == build.id).order_by(Payment.position)))


def set_price(db: Session, build: Build, terms: Terms) -> None:
    """Make the parts add up to the price of the terms; what came in stays. The terms count as changed.

    Where all parts came in already, a part of its own takes what the price changed by.
    """
    if terms in db:
        flag_modified(terms, "price_minor")
    db.add(terms)
    payments = payments_of(db, build)
    price = terms.price_minor
    is_all_paid = bool(payments) and all(payment.paid_on for payment in payments)
    if is_all_paid and price not in {None, sum(payment.amount_minor for payment in payments)}:
        payments.append(new_part(build, payments, CHANGE, Decimal(0)))
        db.add(payments[-1])
    shares = [(payment.percent, payment.amount_minor if payment.paid_on else None) for payment in payments]
    for payment, amount in zip(payments, parts(price or 0, shares), strict=True):
        payment.amount_minor = amount


def new_part(build: Build, before: Sequence[Payment], name: str, percent: Decimal) -> Payment:
    """Return a part that stands after those before it."""
    position = max((payment.position for payment in before), default=-1) + 1
    part = Payment(shop_id=build.shop_id, build_id=build.id, position=position, name=name, percent=percent)
    part.amount_minor = 0
    return part


def split(db: Session, build: Build, terms: Terms, wanted: Iterable[tuple[str, Decimal]]) -> None:
    """Put these parts in place of the open ones; those that came in stay as they are, before them."""
    before = payments_of(db, build)
    for payment in before:
        if payment.paid_on is None:
            db.delete(payment)
    kept = [payment for payment in before if payment.paid_on]
    for name, percent in wanted:
        kept.append(new_part(build, [*before, *kept], name, percent))
    db.add_all(kept)
    db.flush()
    set_price(db, build, terms)
