"""Small shop documents for tests, and their plans. Every plan goes through the checker, but where hours lack."""

import json
from datetime import datetime
from typing import Any

from tests.planning.checked_plan import checked_plan, plan_of
from webapp.planning.document import answer

Json = dict[str, Any]

WORKDAYS = ["mon", "tue", "wed", "thu", "fri"]
EVERY_DAY = [*WORKDAYS, "sat", "sun"]
DAYTIME = [{"days": WORKDAYS, "open": "08:00", "close": "17:00"}]
EVENINGS = [
    {"days": WORKDAYS, "open": "18:00", "close": "21:30"},
    {"days": ["sat"], "open": "09:00", "close": "17:00"},
]
ALWAYS = [{"days": EVERY_DAY, "open": "00:00", "close": "24:00"}]


def op(key: str, minutes: int = 60, kind: str = "mill", after: str | list[Any] = "", **more: Any) -> Json:
    """An operation; `after` may be keys with commas between, each with a stage behind a colon."""
    keys = [key for key in after.split(",") if key] if isinstance(after, str) else after
    links = [
        link if isinstance(link, dict) else dict(zip(("operation", "stage"), link.split(":"), strict=False))
        for link in keys
    ]
    return {"key": key, "kind": kind, "minutes": minutes, "after": links, **more}


def build(*operations: Json, name: str = "Desk", **more: Any) -> Json:
    return {"name": name, "operations": list(operations), **more}


def shop(*builds: Json, now: str = "2026-02-02T08:00:00-05:00", products: Any = (), **more: Any) -> Json:
    """A shop in New York, open on workdays from 8 to 17, on Monday 2 February 2026 at 8."""
    place = {
        "time_zone": "America/New_York",
        "hours": DAYTIME,
        "makers": 1,
        "climate": {"day": 20, "night": 20},
        **more,
    }
    return {"benchtide": 1, "now": now, "shop": place, "products": list(products), "builds": list(builds)}


class Got:
    """What a plan says, in the wall clock of the shop."""

    def __init__(self, plan: Json) -> None:
        self.plan = plan
        self.builds = {build["name"]: build for build in plan["builds"]}

    def operation(self, key: str, build: str = "Desk") -> Json:
        found: Json = next(one for one in self.builds[build]["operations"] if one["key"] == key)
        return found

    def start(self, key: str, build: str = "Desk") -> str | None:
        return local(self.operation(key, build)["start"])

    def spans(self, key: str, build: str = "Desk") -> list[str]:
        return [f"{local(start)}-{(local(end) or '')[-5:]}" for start, end in self.operation(key, build)["spans"]]

    def flags(self, key: str, build: str = "Desk") -> list[str]:
        return [flag["flag"] for flag in self.operation(key, build)["flags"]]

    def why(self, key: str, build: str = "Desk") -> str:
        return str(self.operation(key, build)["because"]["why"])


def local(text: str | None) -> str | None:
    """A printed time as "Mon 08:00"; the day of the month goes with it after the first week."""
    if text is None:
        return None
    at = datetime.fromisoformat(text)
    return f"{at:%a} {at:%H:%M}"


def planned(document: Json, checked: bool = True) -> Got:
    return Got(checked_plan(document) if checked else plan_of(document))


def refused(document: Any) -> list[str]:
    """The lines said about a document that is refused."""
    status, out, err = answer(document if isinstance(document, str) else json.dumps(document))
    assert (status, out) == (2, "")
    return err.splitlines()
