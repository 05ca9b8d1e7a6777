"""The lines of the two tables: what each build cost and brought in, and who worked when on what."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.costs.actions import cost_sheets
from webapp.costs.models import Payment
from webapp.costs.sheet import Sheet
from webapp.exports.cells import Cell
from webapp.journal.actions import labour_of
from webapp.planning.timesheet import hours
from webapp.shops.models import Maker, Shop
from webapp.stock.models import Material
from webapp.trade.money import exponent

Lines = Iterator[Sequence[Cell]]
Row = TypeVar("Row", Material, Payment)

COSTS = (
    *("Build", "What", "Day", "Name", "Kind", "From whom"),
    *("Quantity", "Unit", "Price for one", "Amount", "Currency", "Note"),
)
HOURS = ("Day", "Maker", "Build", "Operation", "For no build", "Minutes", "Hours", "How")
MATERIAL, LABOUR, CONSUMABLES, PAYMENT = "material", "labour", "consumables", "payment"
CLOCKED, REMEMBERED, ASKED = "clocked", "remembered", "still asked: stopped when?"
AN_HOUR = 60


@dataclass(frozen=True)
class Amounts:
    """Minor units as a spreadsheet has them: 1250 is 12.50 in dollars."""

    currency: str

    def of(self, minor: int | None) -> Decimal | None:
        return None if minor is None else Decimal(minor).scaleb(-exponent(self.currency))


def builds_of(db: Session, shop: Shop) -> Sequence[Build]:
    """Return all builds of a shop, in the order they were begun."""
    return db.scalars(select(Build).where(Build.shop_id == shop.id).order_by(Build.id)).all()


def costs(db: Session, shop: Shop, builds: Sequence[Build], now: datetime, *, shelf: bool) -> Lines:
    """Yield material, labour, consumables and payments of each build, and what lies on the shelf.

    What is labour, material or consumables adds up to the cost sheet of the build.
    """
    ids = [build.id for build in builds]
    sheets = cost_sheets(db, builds, now)
    names = _names(db, shop)
    in_order = (Material.bought_on.is_(None), Material.bought_on, Material.id)  # empty days last on both databases
    billed = select(Material).where(Material.shop_id == shop.id).order_by(*in_order)
    bills = _by_build(db.scalars(billed))
    parts = _by_build(db.scalars(select(Payment).where(Payment.build_id.in_(ids)).order_by(Payment.position)))
    money = Amounts(shop.currency)
    for build in builds:
        yield from (_bill(build.name, one, money) for one in bills.get(build.id, ()))
        yield from _made(build.name, sheets[build.id], names, money)
        yield from (_payment(build.name, one, money) for one in parts.get(build.id, ()))
    if shelf:
        yield from (_bill("", one, money) for one in bills.get(None, ()))


def _by_build(rows: Iterable[Row]) -> dict[int | None, list[Row]]:
    found: dict[int | None, list[Row]] = {}
    for row in rows:
        found.setdefault(row.build_id, []).append(row)
    return found


def _names(db: Session, shop: Shop) -> dict[int | None, str]:
    return {row.id: row.name for row in db.execute(select(Maker.id, Maker.name).where(Maker.shop_id == shop.id))}


def _bill(build: str, one: Material, money: Amounts) -> Sequence[Cell]:
    what = (build, MATERIAL, one.bought_on, one.name, one.kind, one.supplier)
    price = (_plain(one.quantity), one.unit, _plain(one.unit_price), money.of(one.total_minor))
    return (*what, *price, money.currency, one.note)


def _made(build: str, sheet: Sheet, names: dict[int | None, str], money: Amounts) -> Lines:
    for person in sheet.labour:
        for day in person.days:
            what = (build, LABOUR, day.day, names.get(person.maker, ""), None, None)
            note = "" if day.rate is not None else "no rate on that day"
            yield (*what, _hours(day.minutes), "h", money.of(day.rate), money.of(day.minor), money.currency, note)
    if sheet.consumables_minor:
        amount = money.of(sheet.consumables_minor)
        yield (build, CONSUMABLES, None, None, None, None, None, None, None, amount, money.currency, None)


def _payment(build: str, one: Payment, money: Amounts) -> Sequence[Cell]:
    note = "came in" if one.paid_on else "still to come"
    what = (build, PAYMENT, one.paid_on, one.name, None, None)
    return (*what, _plain(one.percent), "% of the price", None, money.of(one.amount_minor), money.currency, note)


def worked(db: Session, shop: Shop, now: datetime, *, build: Build | None = None, maker_id: int | None = None) -> Lines:
    """Yield the hours of the shop by day, person and thing worked on; of one build, or of one person."""
    names = _names(db, shop)
    wanted = Build.shop_id == shop.id
    builds = {row.id: row.name for row in db.execute(select(Build.id, Build.name).where(wanted))}
    chosen = select(Operation.id, Operation.name).where(Operation.shop_id == shop.id)
    operations = {row.id: row.name for row in db.execute(chosen)}
    booked = labour_of(db, shop, now, build_id=build.id if build else None)
    for line in hours(booked.stretches, shop.zone):
        if (build is None or line.build == build.id) and (maker_id is None or line.maker == maker_id):
            how = ASKED if line.asked else REMEMBERED if line.remembered else CLOCKED
            what = (builds.get(line.build or 0, ""), operations.get(line.operation or 0, ""), line.shop_time or "")
            yield (line.day, names.get(line.maker, ""), *what, line.minutes, _hours(line.minutes), how)


def _hours(minutes: int) -> Decimal:
    """Hours to four places; the minutes beside them are exact."""
    return _plain((Decimal(minutes) / AN_HOUR).quantize(Decimal("0.0001")))


def _plain(number: Decimal) -> Decimal:
    """A number without the noughts that say nothing."""
    return Decimal(f"{number.normalize():f}")
