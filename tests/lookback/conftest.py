"""Past builds with hours, bills and a price."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.models import Build
from webapp.costs.models import Terms
from webapp.shops.models import Rate, Shop
from webapp.stock.models import Material


@pytest.fixture
def past(db: Session, shop: Shop) -> Build:
    """Delivered; estimated 2 h, took 3 h at 40.00; wood for 100.00; price 400.00."""
    return delivered(db, shop, "Ash tray", minutes=120, hours=3)


def delivered(db: Session, shop: Shop, name: str, *, minutes: int, hours: int, note: str = "") -> Build:
    build = factories.build(db, shop, name, status="delivered", delivered_on=date(2026, 1, 20), wood="ash")
    shape = factories.operation(db, build, "shape", minutes=minutes)
    ada = factories.maker(db, shop, "Ada")
    if not ada.rates:
        ada.rates.append(Rate(from_on=date(2025, 1, 1), hour_minor=4000))
    factories.entry(db, ada, "started", datetime(2026, 1, 12, 14, tzinfo=UTC), on=shape)
    factories.entry(db, ada, "done", datetime(2026, 1, 12, 14 + hours, tzinfo=UTC), on=shape)
    if note:
        factories.entry(db, ada, "noted", datetime(2026, 1, 13, 14, tzinfo=UTC), on=build, note=note)
    db.add(Terms(shop_id=shop.id, build_id=build.id, price_minor=40000))
    db.add(
        Material(
            shop_id=shop.id,
            build_id=build.id,
            kind="wood",
            name="ash",
            quantity=Decimal(10),
            unit="bd ft",
            unit_price=Decimal(10),
            total_minor=10000,
        )
    )
    db.commit()
    return build
