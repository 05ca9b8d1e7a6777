"""One piece of a shop with years behind it, as rows: operations, their journal, photos, bills and payments."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from webapp.db.folding import fold
from webapp.products.models import Product
from webapp.shops.models import Equipment, Maker, Room, Shop

NOW = datetime(2026, 2, 3, 19, 18, tzinfo=UTC)  # a Tuesday, 14:18 in the shop
ZONE = ZoneInfo("America/New_York")
MONDAY = date(2026, 2, 2)
KINDS = (
    *("break down", "rough mill", "rest", "final mill", "mark out", "mortise", "joinery", "shape", "dry fit"),
    *("glue-up", "level", "dovetail", "dry fit", "glue-up", "sand", "coat", "coat", "coat", "rub out", "deliver"),
)
NOT_AGREED = 2
SAID = "The joint before it was closed."
PIECES = ("Hall table", "Bookcase", "Desk", "Stool", "Blanket chest", "Bench", "Corner cabinet", "Bed", "Tray", "Chair")
WOODS = ("ash", "white oak", "black walnut", "cherry", "Ébène", "hard maple")
BOUGHT = (("wood", "bd ft"), ("hardware", "pair"), ("glue and finish", "l"), ("sheet goods", "sheet"))


@dataclass(frozen=True)
class Size:
    """How much there is: pieces, steps of each (at most 20), photos of each, versions of a product's figures."""

    builds: int
    steps: int = 20
    photos: int = 30
    versions: int = 4

    @property
    def span(self) -> int:
        """The weeks a piece takes."""
        return 2 * self.steps // 5


def moment(week: int, day: int, hour: float) -> datetime:
    """Return a moment of the shop's day, so many weeks from this one."""
    on = MONDAY + timedelta(weeks=week, days=day)
    return datetime.combine(on, time(int(hour), round(hour % 1 * 60)), ZONE).astimezone(UTC)


class Used:
    """What the operations name."""

    def __init__(self, db: Session, shop: Shop, makers: list[Maker]) -> None:
        self.shop_id, self.makers = shop.id, [one.id for one in makers]
        rooms = db.query(Room).where(Room.shop_id == shop.id).order_by(Room.id)
        self.rooms = [one.id for one in rooms]
        self.clamps = db.query(Equipment).where(Equipment.shop_id == shop.id).order_by(Equipment.id).first().id
        products = {one.name: one for one in db.query(Product).where(Product.shop_id == shop.id)}
        self.product = {"glue-up": products["yellow PVA"], "coat": products["wiping varnish"]}
        self.stages = {kind: [one["name"] for one in row.current.data["stages"]] for kind, row in self.product.items()}


class Piece:
    """One piece, as rows. `age` 0 was begun last week."""

    def __init__(self, size: Size, used: Used, number: int) -> None:
        self.size, self.used, self.number = size, used, number
        self.id = number + 1
        self.age = size.builds - 1 - number - NOT_AGREED
        self.kinds = KINDS[len(KINDS) - size.steps :]
        self.is_lost = self.age > size.span + 4 and self.age % 25 == 11
        self.name = f"{PIECES[number % 10]} {number}"

    @property
    def status(self) -> str:
        after = self.age - self.size.span
        if self.age < 0:
            return ("quoted", "enquiry")[-1 - self.age]
        if self.is_lost:
            return "lost"
        return "in the making" if after < 0 else "delivered" if after < 2 else "aftercare" if after < 4 else "closed"

    @property
    def common(self) -> dict[str, Any]:
        return {"shop_id": self.used.shop_id, "build_id": self.id}

    def row(self) -> dict[str, Any]:
        begun = moment(-self.age - 1, 0, 8)
        ended = MONDAY + timedelta(weeks=self.size.span - self.age - 1)
        words = {"name": self.name, "client": f"Client {self.number % 90}", "wood": WOODS[self.number % 6]}
        words["note"] = "Pegs of the same board. To match the one in the hall."
        return {
            "id": self.id, "shop_id": self.used.shop_id, "status": self.status, "version": 1, **words,
            "due_on": ended, "delivered_on": ended if self.age >= self.size.span and not self.is_lost else None,
            "created_at": begun, "folded": fold(" ".join(words.values())),
        }  # fmt: skip

    def key(self, step: int) -> int:
        return self.number * self.size.steps + step + 1

    def operations(self) -> Iterator[dict[str, Any]]:
        for step, kind in enumerate(self.kinds):
            product = self.used.product.get(kind)
            over = step > 0 and kind == "coat" == self.kinds[step - 1]
            yield {
                **self.common,
                "id": self.key(step), "key": f"o{step}", "name": f"{kind.capitalize()} {step}", "kind": kind,
                "group": ("base", "top", "drawers", "finish")[step // 5], "position": step + 1, "version": 1,
                "minutes": 90 + step * 3, "product_id": product.id if product else None,
                "room_id": self.used.rooms[kind == "coat"], "over_id": self.key(step - 1) if over else None,
                "count": 4 if kind == "mortise" else 1, "note": "As last time." if step % 7 == 3 else "",
            }  # fmt: skip

    def links(self) -> Iterator[dict[str, Any]]:
        for step in range(1, self.size.steps):
            stage = self.used.stages.get(self.kinds[step - 1], [None])[0]
            yield {"operation_id": self.key(step), "waits_for_id": self.key(step - 1), "stage": stage}

    def holds(self) -> Iterator[dict[str, Any]]:
        for step, kind in enumerate(self.kinds):
            if kind == "glue-up":
                yield {
                    "operation_id": self.key(step), "equipment_id": self.used.clamps, "count": 6,
                    "until": self.used.stages[kind][0],
                }  # fmt: skip

    def parts(self) -> Iterator[dict[str, Any]]:
        for place in range(self.size.steps * 3 // 5):
            sides = {"thickness_typed": "3/4", "width_typed": "2 1/2", "length_typed": f"{30 + place}"}
            more = {"name": f"rail {place}", "count": 2, "wood": WOODS[self.number % 6], "version": 1}
            yield {**self.common, **sides, **more, "position": place + 1, "length_nm": (30 + place) * 25_400_000}

    def worked(self, step: int) -> tuple[datetime, datetime, int] | None:
        """When a step was worked and by whom; none where it was not begun by now."""
        week = 2 * (step // 5) + (step % 5 >= 3) - self.age - 1
        hour = 13 if step // 10 else 8.25
        begun = moment(week, step % 5, hour)
        maker = self.used.makers[step // 5 % 2]
        if begun > NOW or self.age < 0 or self.is_lost:
            return None
        return begun, begun + timedelta(minutes=110 + 7 * (self.number % 9) + step), maker

    def entries(self) -> Iterator[dict[str, Any]]:
        for step in range(self.size.steps):
            found = self.worked(step)
            if found is not None:
                yield from self._of_step(step, *found)
        yield from self._of_photos()

    def _of_step(self, step: int, begun: datetime, ended: datetime, maker: int) -> Iterator[dict[str, Any]]:
        pause = begun + timedelta(minutes=45)
        moments = [("started", begun, {}), ("paused", pause, {}), ("resumed", pause + timedelta(minutes=12), {})]
        kind, product = self.kinds[step], self.used.product.get(self.kinds[step])
        figures = {"figures": product.current.id} if product else {}
        moments.append(("done", ended, figures))
        if product:
            stage, later = self.used.stages[kind][0], ended + timedelta(hours=20)
            answer = ("reached", {}) if kind == "glue-up" else ("dry-tested", {"answer": "dry"})
            moments.append((answer[0], later, {"stage": stage, **answer[1]}))
        if step % 4 == 1:
            note = f"The grain of rail {step} turns; plane it from the other end. Oak {self.number}, Ébène beside it."
            moments.append(("noted", begun + timedelta(minutes=30), {"note": note}))
        for name, at, data in moments:
            if at <= NOW:
                yield self._line(f"e-{self.key(step)}-{name}", name, at, maker, self.key(step), data)
        if step % 20 == 4:  # the start was put right afterwards
            at, first = begun - timedelta(minutes=10), f"e-{self.key(step)}-started"
            yield self._line(f"e-{self.key(step)}-mended", "started", at, maker, self.key(step), {}, corrects=first)

    def _line(
        self, key: str, kind: str, at: datetime, maker: int, operation: int | None, data: Any, corrects: Any = None
    ) -> dict[str, Any]:
        more = {"operation_id": operation, "maker_id": maker, "corrects": corrects, "data": data}
        return {
            **self.common,
            "id": key, "kind": kind, "at": at, "arrived_at": at, "folded": fold(data.get("note", "")), **more,
        }  # fmt: skip

    def _photos(self) -> Iterator[tuple[int, int, datetime, int]]:
        for place in range(self.size.photos):
            step = place * self.size.steps // self.size.photos
            found = self.worked(step)
            if found is not None:
                yield (
                    self.number * self.size.photos + place + 1,
                    step,
                    found[0] + timedelta(minutes=place % 3),
                    found[2],
                )

    def photos(self) -> Iterator[dict[str, Any]]:
        for key, step, at, maker in self._photos():
            yield {
                **self.common,
                "id": key, "operation_id": self.key(step), "maker_id": maker, "sent_name": f"IMG_{key}.jpg",
                "sha256": hashlib.sha256(str(key).encode()).hexdigest(), "width": 4000, "height": 3000,
                "at": at, "taken_at": at, "is_cover": step == 0 and key % self.size.photos == 1, "version": 1,
                "caption": SAID if key % 3 == 0 else "",
            }  # fmt: skip

    def _of_photos(self) -> Iterator[dict[str, Any]]:
        for key, step, at, maker in self._photos():
            told = {"photo": key} | ({"note": SAID} if key % 3 == 0 else {})
            yield self._line(f"photo-{key}", "photographed", at, maker, self.key(step), told)

    def bills(self) -> Iterator[dict[str, Any]]:
        for place in range(8):
            kind, unit = BOUGHT[place % 4]
            price = Decimal(place + 3)
            yield {
                **self.common,

                    "kind": kind,
                    "name": f"{WOODS[self.number % 6]} {place}",
                    "quantity": Decimal("12.5"),
                    "unit": unit
                ,
                "unit_price": price, "total_minor": int(price * 1250), "supplier": "the yard", "version": 1,
                "bought_on": None if place == 7 else MONDAY - timedelta(weeks=self.age + 1), "pieces": 4,
                "thickness_typed": "4/4 in", "width_typed": "6 in", "length_typed": "96 in",
            }  # fmt: skip

    def terms(self) -> dict[str, Any]:
        return {**self.common, "price_minor": 480_000, "consumables_percent": Decimal(5), "version": 1}

    def payments(self) -> Iterator[dict[str, Any]]:
        for place, name in enumerate(("deposit", "half way", "at delivery")):
            on = MONDAY - timedelta(weeks=self.age + 1 - 3 * place)
            paid = on if self.age >= 0 and on < MONDAY else None
            percent = (Decimal(30), Decimal(40), Decimal(30))[place]
            more = {"percent": percent, "amount_minor": int(percent * 4800), "paid_on": paid}
            yield {**self.common, "position": place, "name": name, **more}
