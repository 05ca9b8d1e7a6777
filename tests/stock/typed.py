"""A line of a bill as somebody types it."""

from datetime import date
from decimal import Decimal
from typing import Any

from sqlalchemy.orm import Session

from webapp.shops.models import Shop
from webapp.stock.models import Material


def line(**values: str) -> dict[str, str]:
    return {
        "build": "",
        "kind": "wood",
        "name": "White oak 8/4",
        "quantity": "12",
        "unit": "bd ft",
        "unit_price": "7.25",
        "bought_on": "2026-02-03",
        **values,
    }


def material(db: Session, shop: Shop, **values: Any) -> Material:
    found = Material(
        **{
            "shop_id": shop.id,
            "kind": "wood",
            "name": "White oak 8/4",
            "quantity": Decimal(12),
            "unit": "bd ft",
            "unit_price": Decimal("7.25"),
            "total_minor": 8700,
            "bought_on": date(2026, 2, 3),
            **values,
        }
    )
    db.add(found)
    db.commit()
    return found
