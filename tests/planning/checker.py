"""A checker of printed plans: the rules again, from the JSON alone, sharing no code with the planner.

It knows hours, people, links, own and product stages without temperature, recoat windows, tending, work in hand, pins,
and what a build's finish comes to. It does not judge whether a plan is a good one.
"""

import math
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

Json = dict[str, Any]
DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
SPLIT = {"glue-up", "veneer", "bend", "stain", "coat", "pack", "deliver"}
NEEDS = {"sand": 30, "wash": 15, "scuff": 15}


def minute(text: str | None) -> int | None:
    return None if text is None else int(datetime.fromisoformat(text).timestamp() // 60)


def later(text: str) -> int:
    return math.ceil(datetime.fromisoformat(text).timestamp() / 60)


def broken(document: Json, plan: Json) -> list[str]:
    """Everything in which a plan breaks the rules."""
    check = Check(document, plan)
    return [*check.all_there(), *check.operations(), *check.nobody_twice(), *check.builds()]


class Check:
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

    # hours

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

    # the plan as a whole

    def all_there(self) -> Iterator[str]:
        names = [build["name"] for build in self.document["builds"]]
        if [build["name"] for build in self.plan["builds"]] != names:
            yield "the builds are others, or in another order"
        for build in self.document["builds"]:
            keys = [operation["key"] for operation in build["operations"]]
            printed = [o["key"] for b in self.plan["builds"] if b["name"] == build["name"] for o in b["operations"]]
            if len(set(printed)) != len(printed):
                yield f"{build['name']}: a key is printed twice"
            extra = [key for key in printed if key not in keys and not any(key.startswith(f"{k}.") for k in keys)]
            if extra or not set(keys) <= set(printed):
                yield f"{build['name']}: printed {printed}, wanted {keys}"
            starts = [o["start"] for o in self.planned[build["name"]].values()]
            known = [minute(start) or 0 for start in starts if start is not None]
            if known != sorted(known) or None in starts[: len(known)]:
                yield f"{build['name']}: not in order of start"

    def nobody_twice(self) -> Iterator[str]:
        busy = sorted(
            (person, minute(start) or 0, minute(end) or 0)
            for operations in self.planned.values()
            for operation in operations.values()
            for person in operation["people"]
            for start, end in operation["spans"]
        )
        for (person, _, end), (other, start, _) in pairwise(busy):
            if person == other and start < end:
                yield f"{person} is in two places at {start}"

    def operations(self) -> Iterator[str]:
        for build in self.document["builds"]:
            for operation in build["operations"]:
                got = self.planned[build["name"]][operation["key"]]
                for fault in Operation(self, build, operation, got).faults():
                    yield f"{build['name']}.{operation['key']}: {fault}"

    def builds(self) -> Iterator[str]:
        for build, got in zip(self.document["builds"], self.plan["builds"], strict=True):
            ends = [minute(o["finish"]) for o in got["operations"]]
            operations = self.planned[build["name"]]
            ends += [minute(operations[d["operation"]]["stages"].get(d["stage"])) for d in build.get("done_at", [])]
            stages = [minute(end) for o in got["operations"] for end in o["stages"].values()]
            finish = None if None in ends else max(ends, key=lambda end: end or 0)
            if minute(got["finish"]) != finish:
                yield f"{build['name']}: finish {got['finish']} is not its last end"
            cured = None if finish is None or None in stages else max([finish, *(end or 0 for end in stages)])
            if minute(got["cured"]) != cured:
                yield f"{build['name']}: cured {got['cured']} is not its last wait"
            yield from self.lateness(build, got, finish)

    def lateness(self, build: Json, got: Json, finish: int | None) -> Iterator[str]:
        due = self.due(build.get("due"))
        late = None if finish is None else max(0, finish - due) if due is not None else 0
        if got["minutes_late"] != late:
            yield f"{build['name']}: {got['minutes_late']} minutes late, wanted {late}"
        if [flag["flag"] for flag in got["flags"]] != (["late"] if late else []):
            yield f"{build['name']}: flags {got['flags']} for {late} minutes late"

    def due(self, text: str | None) -> int | None:
        if text is None or "T" in text:
            return minute(text)
        day = date.fromisoformat(text)
        return max((end for _, end in self.day(None, day)), default=self.instant(day, "24:00"))


class Operation:
    """One operation of the document beside what the plan says of it."""

    def __init__(self, check: Check, build: Json, operation: Json, got: Json) -> None:
        self.check, self.build, self.operation, self.got = check, build, operation, got
        self.operations = check.planned[build["name"]]
        self.source = {one["key"]: one for one in build["operations"]}
        self.product = check.products.get(operation.get("product") or "", {})
        self.spans = [(minute(start) or 0, minute(end) or 0) for start, end in got["spans"]]
        self.flags = [flag["flag"] for flag in got["flags"]]

    @property
    def is_done(self) -> bool:
        return any(self.operation.get(key) is not None for key in ("finished", "abandoned"))

    @property
    def is_running(self) -> bool:
        operation = self.operation
        return not self.is_done and operation.get("started") is not None and not operation.get("paused")

    def faults(self) -> Iterator[str]:
        yield from self.words()
        if self.is_done:
            end = self.operation.get("abandoned") or self.operation["finished"]
            if self.spans or self.got["people"] or abs((minute(self.got["finish"]) or 0) - (minute(end) or 0)) > 1:
                yield "done work is planned again, or moved"
        elif self.is_blocked():
            if self.spans or self.got["people"] or self.got["because"] or "blocked" not in self.flags:
                yield "what it waits for never comes, but it is not blocked"
            return
        elif "blocked" in self.flags or not self.spans:
            yield "is blocked for nothing"
            return
        else:
            yield from self.work()
        yield from self.stages()
        yield from self.tending()

    def words(self) -> Iterator[str]:
        for flag in self.got["flags"]:
            if not flag["says"].endswith(".") or flag["at"] is None:
                yield f"flag {flag} says nothing"

    def is_blocked(self) -> bool:
        return not self.is_running and any(self.clears(link) is None for link in self.links())

    def links(self) -> list[Json]:
        over = self.operation.get("over")
        return [*self.operation.get("after", []), *([{"operation": over, "over": True}] if over else [])]

    def meant(self, key: str) -> str:
        again = [o["key"] for o in self.build["operations"] if o.get("again_for") == key]
        return self.meant(again[0]) if self.source[key].get("abandoned") and again else key

    def clears(self, link: Json) -> int | None:
        key = self.meant(link["operation"])
        if key == self.operation["key"]:
            return 0
        other = self.operations[key]
        if self.source[key].get("abandoned"):
            return None
        if link.get("stage") in other["stages"]:
            end = minute(other["stages"][link["stage"]])
        else:
            inside = [] if link.get("over") else [k for k in self.operations if k.startswith(f"{key}.")]
            ends = [minute(self.operations[k]["finish"]) for k in (key, *inside)]
            end = None if None in ends else max(e or 0 for e in ends)
        return None if end is None else end + link.get("lag_minutes", 0)

    def left(self) -> int:
        operation = self.operation
        minutes = operation["minutes"] if isinstance(operation["minutes"], int) else operation["minutes"]["likely"]
        worked, done, count = (operation.get(k, 0) for k in ("worked_minutes", "done", "count"))
        if done and worked:
            return max(1, math.ceil(worked * ((count or 1) - done) / done))
        if done:
            return max(1, math.ceil(minutes * ((count or 1) - done) / (count or 1)))
        return max(minutes - worked, math.ceil(minutes / 10))

    def before(self) -> list[tuple[int, int]]:
        """The spans of what is put in before a layer, that is, of what begins by its start."""
        keys = [f"{self.operation['key']}.{need}" for need in NEEDS]
        pieces = [self.operations[key] for key in keys if key in self.operations]
        return sorted((minute(p["start"]) or 0, minute(p["finish"]) or 0) for p in pieces)

    def work(self) -> Iterator[str]:
        got, people = self.got, self.got["people"]
        if sum(end - start for start, end in self.spans) != self.left():
            yield f"{got['spans']} is not {self.left()} minutes"
        if minute(got["finish"]) != self.spans[-1][1]:
            yield "finish is not the end of its work"
        wanted = self.operation.get("makers", 1)
        if len(set(people)) != len(people) or len(people) > wanted:
            yield f"{people} are not {wanted} makers"
        if (len(people) < wanted) != ("maker-short" in self.flags):
            yield f"{people} are not {wanted} makers"
        yield from self.in_hours(people)
        if self.is_running:
            if minute(got["start"]) != minute(self.operation["started"]) or got["because"] is not None:
                yield "running work has another start, or a reason for it"
        else:
            yield from self.order()
            yield from self.reasons()

    def in_hours(self, people: list[str]) -> Iterator[str]:
        inside = all(self.check.all_in(people, at) for start, end in self.spans for at in range(start, end))
        if inside == ("longer-than-shop-hours" in self.flags):
            yield "lies outside the hours of its people without a flag, or inside them with one"
        split = self.operation.get("split")
        split = self.operation["kind"] not in SPLIT if split is None else split
        if len(self.spans) > 1 and not split:
            yield "work of one piece is in parts"
        for (_, end), (start, _) in pairwise(self.spans):
            if any(self.check.all_in(people, at) for at in range(end, start)):
                yield "pauses although its people are in"
        least = self.check.shop.get("least_minutes", 0)
        first = self.spans[0][1] - self.spans[0][0]
        free = not self.is_running and self.operation.get("pinned") is None
        if split and len(self.spans) > 1 and first < least and free:
            yield f"begins {first} minutes before closing"

    def order(self) -> Iterator[str]:
        begins = min([self.spans[0][0], *(start for start, _ in self.before())])
        if minute(self.got["start"]) != self.spans[0][0] or begins < self.check.now:
            yield "does not start with its work, or before now"
        pinned = self.operation.get("pinned") is not None
        dates = [self.operation.get("not_before"), self.build.get("not_before")]
        for text in [] if pinned else [d for d in dates if d]:
            day = self.check.instant(date.fromisoformat(text), "00:00") if "T" not in text else later(text)
            if begins < day:
                yield f"starts before {text}"
        for link in self.links():
            clears = self.clears(link)
            if clears is not None and begins < clears:
                yield f"starts before {link} clears"
            yield from self.within(link, clears)
        if self.operation.get("over"):
            yield from self.window()

    def within(self, link: Json, clears: int | None) -> Iterator[str]:
        if clears is not None and link.get("within_minutes") is not None:
            last = clears - link.get("lag_minutes", 0) + link["within_minutes"]
            if self.spans[0][0] > last and "window-missed" not in self.flags:
                yield f"starts too long after {link}"

    def window(self) -> Iterator[str]:
        key = self.meant(self.operation["over"])
        lower, below = self.operations[key], self.source[key]
        product = self.check.products.get(below.get("product") or "", {})
        pairs = self.product.get("recoat_over", {})
        rows = pairs.get(product.get("name"), pairs.get(product.get("family"), product.get("recoat", [])))
        began = minute(below.get("wait_began") or lower["finish"]) or 0
        begins, end = min([self.spans[0][0], *(start for start, _ in self.before())]), self.spans[-1][1]
        lead = sum(stop - start for start, stop in self.before())
        if self.before() and begins + lead != self.spans[0][0]:
            yield "what is put in before it does not lie right before it"
        inside = False
        for row in rows:
            closes = math.inf if row.get("to_hours") is None else began + row["to_hours"] * 60
            needs = sum(NEEDS[need] for need in row.get("needs", []))
            inside = inside or (began + row["from_hours"] * 60 <= begins and end <= closes and lead <= needs)
        missed = "window-missed" in self.flags
        follows = any(link.get("within_minutes") is not None for link in self.links())
        if rows and inside == missed and not (inside and follows):
            yield "lies outside every window without a flag, or inside one with it"

    def reasons(self) -> Iterator[str]:
        because = self.got["because"]
        starts = self.spans[0][0]
        if because is None or (because["why"] == "now" and starts != self.check.now):
            yield f"starts at {self.got['start']} because of {because}"
        elif "until" in because and self.check.now > (minute(because["until"]) or 0):
            yield f"what held it was over before now: {because}"

    def stages(self) -> Iterator[str]:
        if self.operation.get("abandoned"):
            if self.got["stages"]:
                yield "abandoned work has no waits"
            return
        hours = {s["name"]: s["hours"] for s in [*self.product.get("stages", []), *self.operation.get("stages", [])]}
        began = minute(self.operation.get("wait_began"))
        began = (minute(self.got["finish"]) or 0) if began is None else began
        wanted = {name: began + math.ceil(round(length * 60, 3) - 1 / 60) for name, length in hours.items()}
        for name, text in self.operation.get("reached", {}).items():
            wanted[name] = later(text) if later(text) <= self.check.now else max(wanted[name], later(text))
        if {name: minute(end) for name, end in self.got["stages"].items()} != wanted:
            yield f"stages {self.got['stages']}, wanted {wanted}"

    def tending(self) -> Iterator[str]:
        end = minute(self.got["finish"]) or 0
        for tend in [] if self.operation.get("abandoned") else self.product.get("tend", []):
            got = self.operations.get(f"{self.operation['key']}.{tend['key']}")
            at = end + tend["at_minutes"]
            by = at + tend.get("within_minutes", 0)
            if got is None:
                if not (self.operation.get("finished") and by < self.check.now):
                    yield f"{tend['key']} is not planned"
                continue
            start, stop = minute(got["start"]) or 0, minute(got["finish"]) or 0
            flags = [flag["flag"] for flag in got["flags"]]
            if stop - start != tend["minutes"] or len(got["people"]) != 1 or start < max(at, self.check.now):
                yield f"{tend['key']} is {got['spans']} by {got['people']}"
            if (start > by) != ("window-missed" in flags):
                yield f"{tend['key']} starts {start}, to be by {by}, with flags {flags}"
            if not all(self.check.all_in(got["people"], minute_) for minute_ in range(start, stop)):
                yield f"{tend['key']} lies outside the hours"
