"""Readings of moisture laid down as rows, and looked at again."""

from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.models import Build, Part
from webapp.moisture.models import MaterialMoisture, Meter, PartMoisture, StockMoisture
from webapp.shops.models import Shop


def part(db: Session, build: Build, name: str = "Top", **values: Any) -> Part:
    found = Part(shop_id=build.shop_id, build_id=build.id, position=1, name=name, **values)
    db.add(found)
    db.commit()
    return found


def stock(db: Session, shop: Shop, at: datetime, reading: float = 8.0, number: int = 1) -> StockMoisture:
    found = StockMoisture(shop_id=shop.id, number=number, revision=1, at=at, arrived_at=at, reading=reading)
    db.add(found)
    db.commit()
    return found


def pin_meter(db: Session, shop: Shop) -> Meter:
    """Made for 68 °F, 2 points more at 50 °F."""
    found = Meter(
        shop_id=shop.id,
        name="pin meter",
        unit="F",
        by_temperature=[[50.0, None, 2.0], [68.0, None, 0.0]],
        by_species=[],
    )
    db.add(found)
    db.commit()
    return found


def rows(db: Session, table: Any) -> list[Any]:
    factories.anew(db)
    return list(db.scalars(select(table).order_by(table.id)))


def boards(db: Session) -> list[MaterialMoisture]:
    return rows(db, MaterialMoisture)


def parts(db: Session) -> list[PartMoisture]:
    return rows(db, PartMoisture)
