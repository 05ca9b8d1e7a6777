"""What the checker of plans goes by: the document and the plan as they stand in JSON, and the hours of the shop."""

import math
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

Json = dict[str, Any]
DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


def minute(text: str | None) -> int | None:
    return None if text is None else int(datetime.fromisoformat(text).timestamp() // 60)


def later(text: str) -> int:
    return math.ceil(datetime.fromisoformat(text).timestamp() / 60)


class Facts:
    """A document, its printed plan, and its hours, worked out anew."""

    def __init__(self, document: Json, plan: Json) -> None:
        self.document, self.plan, self.shop = document, plan, document["shop"]
        self.zone = ZoneInfo(self.shop["time_zone"])
        self.now = later(document["now"])
        makers = self.shop.get("makers", 1)
        named = [{"name": f"maker {n + 1}"} for n in range(makers)] if isinstance(makers, int) else makers
        self.makers = {maker["name"]: maker for maker in named}
        self.products = {product["name"]: product for product in document.get("products", [])}
        self.planned = {b["name"]: {o["key"]: o for o in b["operations"]} for b in plan["builds"]}
        self.hours: dict[tuple[str | None, date], list[tuple[int, int]]] = {}

    def instant(self, day: date, clock: str) -> int:
        hour, minutes = map(int, clock.split(":"))
        wall = datetime(day.year, day.month, day.day, tzinfo=self.zone) + timedelta(hours=hour, minutes=minutes)
        return int(wall.replace(fold=0).timestamp() // 60)

    def day(self, who: str | None, day: date) -> list[tuple[int, int]]:
        if (who, day) not in self.hours:
            own = self.makers[who].get("hours") if who else None
            weekly = self.shop["hours"] if own is None else own
            shut = any(c["from"] <= day.isoformat() <= c.get("to", c["from"]) for c in self.shop.get("closed", []))
            rows = [] if shut else [row for row in weekly if DAYS[day.weekday()] in row["days"]]
            rows = rows + [row for row in self.shop.get("extra", []) if row["date"] == day.isoformat()]
            self.hours[who, day] = [(self.instant(day, r["open"]), self.instant(day, r["close"])) for r in rows]
        return self.hours[who, day]

    def is_in(self, who: str | None, at: int) -> bool:
        today = datetime.fromtimestamp(at * 60, self.zone).date()
        days = [today, today - timedelta(days=1)]
        return any(start <= at < end for day in days for start, end in self.day(who, day))

    def all_in(self, people: list[str], at: int) -> bool:
        return all(self.is_in(person, at) for person in people)
