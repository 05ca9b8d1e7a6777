"""A shop with years behind it, laid down as rows in bulk: for timing pages, and for counting their queries.

One piece is begun a week. Of a chain of steps, five are worked in two weeks, by two people, mornings and afternoons, so
that several pieces are in the making at any time and no clock runs beside another. Newest first: two pieces not agreed
yet, those in the making, two delivered, two in aftercare, the rest closed and every 25th lost.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from flask import Flask
from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from tests import factories
from tests.years_piece import MONDAY, NOW, Piece, Size, Used, moment
from webapp.builds.models import Build, Hold, Link, Operation, Part
from webapp.builds.models import Size as Measure
from webapp.costs.models import Payment, Terms
from webapp.journal.models import Entry
from webapp.moisture.models import MaterialMoisture, Meter, PartMoisture, StockMoisture, Watch
from webapp.photos.models import Photo
from webapp.products.actions import seed
from webapp.products.models import Figures, Product, Tin
from webapp.shops.models import HELPER, Closed, Equipment, Extra, Maker, Rate, Reading, Room, Sensor, Shop
from webapp.stock.models import Material


@dataclass(frozen=True)
class Years:
    """The shop that was laid down, and the ids of an open and of a past piece in it."""

    shop: Shop
    owner: Maker
    opened: int
    past: int


def lay_down(db: Session, size: Size) -> Years:
    """Lay down the shop and return it; commits. The database must be empty: ids are given here."""
    shop = factories.shop(db, "Ten Years Shop")
    makers = [factories.maker(db, shop, "Ada"), factories.maker(db, shop, "Ben", HELPER)]
    seed(db, shop, NOW - timedelta(weeks=size.builds))
    db.flush()
    _keep_house(db, shop, makers, size)
    used = Used(db, shop, makers)
    builds = [Piece(size, used, number) for number in range(size.builds)]
    for table, rows in (
        (Build, (one.row() for one in builds)),
        (Operation, (row for one in builds for row in one.operations())),
        (Link, (row for one in builds for row in one.links())),
        (Hold, (row for one in builds for row in one.holds())),
        (Part, (row for one in builds for row in one.parts())),
        (Photo, (row for one in builds for row in one.photos())),
        (Entry, (row for one in builds for row in one.entries())),
        (Entry, _shop_time(shop, makers, size)),
        (Material, (row for one in builds for row in one.bills())),
        (Measure, _sizes(db, shop)),
        (Entry, _measured(db, shop, makers[0])),
        (PartMoisture, _moistures(db, shop, Part, "part_id")),
        (Watch, _watches(db, shop)),
        (MaterialMoisture, _moistures(db, shop, Material, "material_id")),
        (Terms, (one.terms() for one in builds)),
        (Payment, (row for one in builds for row in one.payments())),
    ):
        _put(db, table, rows)
    db.commit()
    opened = next(one for one in reversed(builds) if one.age == size.span - 3)
    past = next(one for one in reversed(builds) if one.age == size.span + 4)
    return Years(shop, makers[0], opened.id, past.id)


def _sizes(db: Session, shop: Shop) -> Iterator[dict[str, Any]]:
    """Six of each piece, the second of which goes into the first."""
    usual = {"shop_id": shop.id, "target_typed": "3/4", "target_nm": 19_050_000, "goes_into": "", "fit": ""}
    for build in db.scalars(select(Build.id).order_by(Build.id)):
        for number in range(6):
            goes = {"goes_into": "size-0", "fit": "tenon in mortise"} if number == 1 else {}
            yield usual | goes | {"build_id": build, "position": number, "key": f"size-{number}", "name": "tenon"}


def _measured(db: Session, shop: Shop, maker: Maker) -> Iterator[dict[str, Any]]:
    columns = Measure.id, Measure.build_id, Measure.key, Build.created_at
    for size in db.execute(select(*columns).join(Build, Measure.build_id == Build.id).order_by(Measure.id)):
        at = min(size.created_at, NOW)  # as the piece was made: the bench looks at what was measured lately
        yield {
            "id": f"sized-{size.id}", "shop_id": shop.id, "maker_id": maker.id, "build_id": size.build_id,
            "kind": "sized", "at": at, "arrived_at": at, "data": {"size": size.key, "actual": "49/64"},
        }  # fmt: skip


def _moistures(db: Session, shop: Shop, of: type[Part | Material], column: str) -> Iterator[dict[str, Any]]:
    """Three readings of everything made of wood; asked for once the things themselves are there."""
    for key in db.scalars(select(of.id).order_by(of.id)):
        yield from ({column: key, **row} for row in _dries(shop, 3))


def _watches(db: Session, shop: Shop) -> Iterator[dict[str, Any]]:
    """One of each part."""
    for key in db.scalars(select(Part.id).order_by(Part.id)):
        yield {"shop_id": shop.id, "part_id": key, "name": "width", "width_typed": "36 in", "moisture": 9.0}


def _dries(shop: Shop, count: int) -> Iterator[dict[str, Any]]:
    for number in range(1, count + 1):
        at = NOW - timedelta(days=count - number)
        read = {"number": number, "revision": 1, "at": at, "arrived_at": at, "reading": 12.0 - number % 4}
        yield {"shop_id": shop.id, **read}


def _put(db: Session, table: type[Any], rows: Iterable[dict[str, Any]]) -> None:
    found = list(rows)
    if found:
        db.execute(insert(table), found)


def _keep_house(db: Session, shop: Shop, makers: list[Maker], size: Size) -> None:
    """What belongs to the place: it grows with the years as well."""
    weeks = range(-size.builds, 0)
    db.add_all(Room(shop_id=shop.id, name=name) for name in ("Finishing room", "Loft"))
    db.add_all(Equipment(shop_id=shop.id, name=f"clamps, {n * 10} cm", count=8) for n in range(3, 3 + size.steps // 2))
    for product in db.query(Product).where(Product.shop_id == shop.id):
        first = product.figures[0]
        for number in range(2, size.versions + 1):
            same = {"data": dict(first.data), "source": first.source, "at": NOW, "why": "a new can"}
            product.figures.append(Figures(number=number, **same))
            db.add(Tin(shop_id=shop.id, product_id=product.id, opened_on=MONDAY, gone_on=MONDAY))
        db.add(Tin(shop_id=shop.id, product_id=product.id, opened_on=MONDAY))
    db.flush()
    read = [moment(week, day, hour) for week in weeks for day in range(7) for hour in (8.25, 16.5)]
    _put(db, StockMoisture, _dries(shop, size.builds))
    db.add(Sensor(shop_id=shop.id, name="by the door", token_hash="0", made_at=NOW))
    db.add(Meter(shop_id=shop.id, name="pin meter", unit="F", by_temperature=[[50, None, 2]], by_species=[]))
    _put(db, Reading, ({"shop_id": shop.id, "at": at, "temperature": 18.5, "humidity": 45.0} for at in read))
    days = [MONDAY + timedelta(weeks=week) for week in (*weeks, 2, 30)]
    _put(db, Closed, ({"shop_id": shop.id, "first_on": on, "last_on": on, "note": "fair"} for on in days[::4]))
    _put(db, Extra, ({"shop_id": shop.id, "on_day": on, "opens": 1100, "closes": 1200} for on in days[::8]))
    years = sorted({on.replace(month=1, day=1) for on in days})
    _put(db, Rate, ({"maker_id": one.id, "from_on": on, "hour_minor": 4500} for one in makers for on in years))


def _shop_time(shop: Shop, makers: list[Maker], size: Size) -> Iterator[dict[str, Any]]:
    """An hour of sharpening on each Friday evening, and one clock that was forgotten yesterday."""
    for week in range(-size.builds, 0):
        for kind, hour in (("started", 16), ("paused", 16.9)):
            yield _line_of_shop(shop, makers[0], f"shop-{week}-{kind}", kind, moment(week, 4, hour))
    yield _line_of_shop(shop, makers[1], "forgotten", "started", moment(0, 0, 16.5))


def _line_of_shop(shop: Shop, maker: Maker, key: str, kind: str, at: datetime) -> dict[str, Any]:
    return {
        "id": key, "shop_id": shop.id, "maker_id": maker.id, "kind": kind, "at": at, "arrived_at": at,
        "data": {"shop_time": "Sharpening"},
    }  # fmt: skip


def signed_in(app: Flask, db: Session, years: Years) -> Any:
    """Return a browser in which the owner is signed in."""
    return factories.client_of(app, db, years.shop, years.owner.name)
