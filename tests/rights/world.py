"""Two shops on one server with the same things in them: one or more rows of every table.

A new table gets its row here, in entries.py or in moistures.py, a new id in an address its value where its row is made.
"""

import hashlib
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from io import BytesIO
from itertools import count
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from tests.rights.entries import entry, tell
from tests.rights.marks import PRICE, RATE, numbered
from tests.rights.moistures import wet
from tests.rights.sensors import sensor, with_token
from webapp.backups.models import BUTTON, Backup
from webapp.builds.models import Build, Hold, Link, Operation, Part, Size
from webapp.costs.models import Payment, Terms
from webapp.db.folding import fold
from webapp.db.receipt import Receipt
from webapp.people.actions import hashed
from webapp.people.models import Person, SignIn
from webapp.photos.models import Photo, key
from webapp.products.models import FINISH, GLUE, Figures, Product, Tin
from webapp.shops.models import HELPER, OWNER, Closed, Equipment, Extra, Maker, Opening, Rate, Reading, Room, Shop
from webapp.stock.models import Material
from webapp.web.files import Folder

NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)  # Tue 14:18 in both shops
FEB3 = date(2026, 2, 3)
DAY = timedelta(days=1)


@dataclass
class Place:
    """A shop with one or more rows of everything, and its rows by the name an address has for them."""

    mark: str
    shop_id: int
    values: dict[str, Any]

    def token(self, role: str) -> str:
        """Return what is in the cookie of its owner or its helper."""
        return f"{self.mark} {role}"


class Furnishing:
    """What is put into one shop."""

    def __init__(self, db: Session, mark: str, photos: Path) -> None:
        self.db, self.mark, self.photos = db, mark, Folder(photos)
        self.lines = count(1)

    def name(self, what: str) -> str:
        return f"{self.mark} {what}"

    def put(self, row: Any) -> Any:
        self.db.add(row)
        self.db.flush()
        return row

    def maker(self, name: str, role: str = OWNER, *, left: bool = False) -> Maker:
        name = self.name(name)
        person = self.put(Person(name=name, folded=fold(name), password_hash="pbkdf2:sha256:1$x$00", created_at=NOW))
        at = {"shop_id": self.shop.id, "left_on": FEB3 - DAY if left else None}
        found: Maker = self.put(Maker(person_id=person.id, name=name, role=role, **at))
        return found

    def all(self) -> Place:
        self.shop = self.put(
            Shop(
                name=self.name("Shop"), time_zone="America/New_York", currency="USD", length_unit="in",
                temperature_unit="F", created_at=NOW,
            )
        )  # fmt: skip
        self.people()
        self.the_place()
        self.products()
        self.pieces()
        self.pictures()
        self.money()
        self.told = tell(self, NOW)
        self.db.commit()
        return Place(self.mark, self.shop.id, self.values())

    def sign_in(self, maker: Maker, name: str) -> SignIn:
        found: SignIn = self.put(
            SignIn(
                person_id=maker.person_id, token_hash=hashed(f"{self.mark} {name}"), device=self.name("phone"),
                created_at=NOW, seen_at=NOW,
            )
        )  # fmt: skip
        return found

    def people(self) -> None:
        self.owner, self.helper = self.maker("Owner"), self.maker("Helper", HELPER)
        self.maker("Gone", left=True)
        self.sign_in(self.owner, OWNER)
        self.sign_in(self.helper, HELPER)
        self.put(Backup(at=NOW, by=self.name("Owner"), way=BUTTON, size=1, row_count=1, photo_count=1))
        self.other_device = self.sign_in(self.owner, "another device")
        self.rate = self.put(Rate(maker_id=self.owner.id, from_on=FEB3, hour_minor=RATE))
        self.put(Rate(maker_id=self.helper.id, from_on=FEB3, hour_minor=25_00))
        self.put(Opening(shop_id=self.shop.id, maker_id=self.helper.id, weekday=3, opens=480, closes=1020))

    def the_place(self) -> None:
        for day in range(5):
            self.put(Opening(shop_id=self.shop.id, weekday=day, opens=480, closes=1020))
        self.closed = self.put(
            Closed(shop_id=self.shop.id, first_on=FEB3 + DAY, last_on=FEB3 + DAY, note=self.name("fair"))
        )
        self.extra = self.put(Extra(shop_id=self.shop.id, on_day=FEB3 + 4 * DAY, opens=480, closes=720))
        self.press = self.put(Equipment(shop_id=self.shop.id, name=self.name("press"), count=2))
        self.jig = self.put(Equipment(shop_id=self.shop.id, name=self.name("jig"), count=1))
        self.room, self.loft = (self.put(Room(shop_id=self.shop.id, name=self.name(name))) for name in ("room", "loft"))
        self.reading = self.put(Reading(shop_id=self.shop.id, room_id=self.loft.id, at=NOW, temperature=20.0))
        self.sensor = with_token(self.put(sensor(self.shop.id, self.name("sensor"), NOW)))

    def products(self) -> None:
        self.glue, self.oil, self.retired = (
            self.put(Product(shop_id=self.shop.id, name=self.name(name), family="wiping oil", use=use, retired=retired))
            for name, use, retired in (("glue", GLUE, False), ("oil", FINISH, False), ("old", GLUE, True))
        )
        stages = [{"name": "out of clamps", "hours": 1}, {"name": "full strength", "hours": 24}]
        tend = [{"key": "wipe", "at_minutes": 10, "within_minutes": 50, "minutes": 5}]
        for product in (self.glue, self.oil, self.retired):
            data = {"stages": stages, "tend": tend}
            figures = {"source": self.name("label"), "at": NOW, "maker_id": self.owner.id}
            self.figures = self.put(Figures(product_id=product.id, number=1, data=data, **figures))
        tin = {"shop_id": self.shop.id, "product_id": self.glue.id, "opened_on": FEB3}
        self.tin = self.put(Tin(batch=self.name("batch"), **tin))

    def operation(self, build: Build, key: str, position: int, **values: Any) -> Operation:
        found: Operation = self.put(
            Operation(
                **{
                    "shop_id": self.shop.id, "build_id": build.id, "key": key, "name": self.name(key), "kind": "mill",
                    "position": position, "minutes": 60, "group": self.name("top"), "note": self.name("note"), **values,
                }
            )
        )  # fmt: skip
        return found

    def pieces(self) -> None:
        self.build, self.past, self.past2, self.blank = (
            self.put(
                Build(
                    shop_id=self.shop.id, name=self.name(name), client=self.name("client"), wood=self.name("wood"),
                    contact=self.name("contact"), note=self.name("about"), status=status, created_at=NOW,
                    delivered_on=FEB3 if status == "delivered" else None,
                )
            )
            for name, status in (
                ('table "a"; b=../c', "in the making"), ("desk", "delivered"), ("chest", "delivered"),
                ("stool", "enquiry"),
            )
        )  # fmt: skip
        self.mill = self.operation(self.build, "mill", 1, count=4, room_id=self.room.id)
        glued = {"kind": "glue-up", "product_id": self.glue.id, "room_id": self.room.id}
        self.glue_up = self.operation(self.build, "glue", 2, **glued)
        self.put(Link(operation_id=self.glue_up.id, waits_for_id=self.mill.id))
        self.put(Hold(operation_id=self.glue_up.id, equipment_id=self.press.id, count=1))
        self.coat = self.operation(self.build, "coat", 3, kind="coat", product_id=self.oil.id, room_id=self.loft.id)
        self.put(Link(operation_id=self.coat.id, waits_for_id=self.glue_up.id, stage="out of clamps"))
        self.second = self.operation(self.build, "second", 4, kind="coat", product_id=self.oil.id, over_id=self.coat.id)
        self.sand = self.operation(self.build, "sand", 5, group=self.name("base"))
        self.wax = self.operation(self.build, "wax", 6, group=self.name("base"))
        self.operation(self.past, "saw", 1)
        self.build.done_at = [{"operation": "coat", "stage": "full strength"}]
        self.part = self.put(Part(shop_id=self.shop.id, build_id=self.build.id, position=1, name=self.name("rail")))
        size = {"shop_id": self.shop.id, "build_id": self.build.id, "target_typed": "3/8 in", "target_nm": 9_525_000}
        self.put(Size(position=1, key="mortise", name=self.name("mortise"), part=self.name("leg"), **size))
        into = {"goes_into": "mortise", "fit": "tenon in mortise", "note": self.name("snug")}
        self.size = self.put(Size(position=2, key="tenon", name=self.name("tenon"), **into, **size))

    def photo(self, name: str, **values: Any) -> Photo:
        sha256 = hashlib.sha256(self.name(name).encode()).hexdigest()
        for size in ("small", "large"):
            self.photos.put(key(sha256, size), BytesIO(b"RIFF"))
        found: Photo = self.put(
            Photo(
                **{
                    "shop_id": self.shop.id, "build_id": self.build.id, "maker_id": self.owner.id, "sha256": sha256,
                    "sent_name": self.name(name), "caption": self.name(name), "width": 4, "height": 3, "at": NOW,
                    **values,
                }
            )
        )  # fmt: skip
        entry(self, NOW, "photographed", self.build, id=f"photo-{found.id}", data={"photo": found.id})
        return found

    def pictures(self) -> None:
        self.picture = self.photo("front", operation_id=self.mill.id, taken_at=NOW - DAY, asks_time=True)
        self.photo("cover", is_cover=True)
        self.photo("out", removed_at=NOW)
        self.receipt = self.photo("bill", build_id=None)

    def money(self) -> None:
        line = {
            "shop_id": self.shop.id, "kind": "wood", "quantity": Decimal(1), "unit": "bd ft", "bought_on": FEB3,
            "unit_price": Decimal(9), "total_minor": 9_00, "supplier": self.name("yard"), "note": self.name("bill"),
        }  # fmt: skip
        self.material = self.put(
            Material(name=self.name("ash"), build_id=self.build.id, receipt_id=self.receipt.id, **line)
        )
        self.put(Material(name=self.name("screws"), **line))
        self.wet = wet(self, NOW)
        price = PRICE.get(self.mark, 1)
        self.put(Terms(shop_id=self.shop.id, build_id=self.build.id, price_minor=price))
        parts = ((0, "deposit", FEB3), (1, "rest", None))
        self.paid, self.payment = (
            self.put(
                Payment(
                    shop_id=self.shop.id, build_id=self.build.id, position=place, name=self.name(name),
                    percent=Decimal(50), amount_minor=price // 2, paid_on=paid,
                )
            )
            for place, name, paid in parts
        )  # fmt: skip
        self.put(Receipt(key=f"{self.mark}", shop_id=self.shop.id, location="/builds", at=NOW))

    def values(self) -> dict[str, Any]:
        return {
            "build_id": self.build.id,
            "operation_id": self.glue_up.id,
            "part_id": self.part.id,
            "size_id": self.size.id,
            "photo_id": self.picture.id,
            "material_id": self.material.id,
            "payment_id": self.payment.id,
            "product_id": self.glue.id,
            "tin_id": self.tin.id,
            "rate_id": self.rate.id,
            **self.wet,
            **self.told,
            "size": "small",
            "builds.delete:build_id": self.blank.id,
            "photos.shift?": {"ids": self.picture.id},
            "photos.update_times?": {"ids": self.picture.id},
            "people.sign_ins": self.other_device.id,
            "shops.closed": self.closed.id,
            "shops.extra": self.extra.id,
            "shops.equipment": self.jig.id,
            "shops.rooms": self.loft.id,
            "shops.readings": self.reading.id,
            "shops.sensors": self.sensor.id,
            "room_name": self.room.name,
            "shops.enter": self.shop.id,
            "shops.makers": self.helper.id,
            "shops.maker_hours": self.helper.id,
            "shops.rates": self.owner.id,
            "shops.accounts": self.helper.id,
        }


def furnish(db: Session, mark: str, photos: Path) -> Place:
    with numbered(db, mark):
        return Furnishing(db, mark, photos).all()
