"""Rows that cost something."""

from datetime import UTC, date, datetime
from decimal import Decimal

from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.models import Build
from webapp.costs.models import Payment, Terms
from webapp.shops.models import Maker, Rate, Shop
from webapp.stock.models import Material


def worked(db: Session, build: Build, maker: Maker, minutes: int, day: int = 2, hour: int = 15) -> None:
    """So many minutes by the clock on a day of February; 15:00 UTC is 10:00 in the shop."""
    operation = db.scalars(select(Build).where(Build.id == build.id)).one().operations
    on = operation[0] if operation else factories.operation(db, build, "mill")
    start = datetime(2026, 2, day, hour, tzinfo=UTC)
    factories.entry(db, maker, "started", start, on=on)
    factories.entry(db, maker, "paused", start.replace(hour=hour + minutes // 60, minute=minutes % 60), on=on)


def rate(db: Session, maker: Maker, hour_minor: int, since: date = date(2026, 1, 1)) -> None:
    db.add(Rate(maker_id=maker.id, from_on=since, hour_minor=hour_minor))
    db.commit()


def bill(db: Session, build: Build, total_minor: int, kind: str = "wood") -> None:
    amounts = {"quantity": Decimal(1), "unit_price": Decimal(total_minor) / 100, "total_minor": total_minor}
    place = {"shop_id": build.shop_id, "build_id": build.id}
    db.add(Material(**place, kind=kind, name=kind, unit="pcs", **amounts, bought_on=date(2026, 2, 2)))
    db.commit()


def terms(db: Session, build: Build, price_minor: int | None = 840000, **values: Decimal | int) -> Terms:
    found = Terms(shop_id=build.shop_id, build_id=build.id, price_minor=price_minor, **values)
    db.add(found)
    db.commit()
    return found


def parts_of(db: Session, build: Build) -> list[Payment]:
    db.rollback()  # a new look
    return list(db.scalars(select(Payment).where(Payment.build_id == build.id).order_by(Payment.position)))


def ada(db: Session, shop: Shop) -> Maker:
    return factories.maker(db, shop, "Ada")
