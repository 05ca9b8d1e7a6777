"""The rules for one operation of a plan, for the checker."""

import math
from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from tests.planning.checked_air import Air
from tests.planning.checked_facts import Facts, Json, later, minute
from tests.planning.checked_weather import Weather

SPLIT = {"glue-up", "veneer", "bend", "stain", "coat", "pack", "deliver"}  # the kinds that are not
NEEDS = {"sand": 30, "wash": 15, "scuff": 15}


class Operation:
    """One operation of the document beside what the plan says of it."""

    def __init__(self, check: Facts, build: Json, operation: Json, got: Json) -> None:
        self.check, self.build, self.operation, self.got = check, build, operation, got
        self.operations = check.planned[build["name"]]
        self.source = {one["key"]: one for one in build["operations"]}
        self.product = check.products.get(operation.get("product") or "", {})
        self.spans = [(minute(start) or 0, minute(end) or 0) for start, end in got["spans"]]
        self.flags = [flag["flag"] for flag in got["flags"]]
        begun = operation.get("started") if self.is_done or self.is_running else None
        self.weather = Weather(check, operation, got, self.product, begun)

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
        if not self.operation.get("abandoned"):
            yield from self.weather.cold()
            yield from self.weather.flaws()
        yield from self.stages()
        yield from self.tending()

    def words(self) -> Iterator[str]:
        for flag in self.got["flags"]:
            if not flag["says"].endswith(".") or flag["at"] is None:
                yield f"flag {flag} says nothing"

    def is_blocked(self) -> bool:
        if self.is_running:
            return False
        never = bool(self.operation.get("over")) and self.windows() == [] and bool(self.rows())
        return never or any(self.clears(link) is None for link in self.links())

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
        if self.source[key].get("abandoned") or self.is_spoilt(other):
            return None
        if link.get("stage") in other["stages"]:
            end = minute(other["stages"][link["stage"]])
        else:
            inside = [] if link.get("over") else [k for k in self.operations if k.startswith(f"{key}.")]
            ends = [minute(self.operations[k]["finish"]) for k in (key, *inside)]
            end = None if None in ends else max(e or 0 for e in ends)
        return None if end is None else end + link.get("lag_minutes", 0)

    def is_spoilt(self, other: Json) -> bool:
        return any(flag["flag"] in ("too-cold", "suspect-joint") for flag in other["flags"])

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

    def rows(self) -> list[Json]:
        """The windows of the layer below as the document has them."""
        product = self.check.products.get(self.source[self.meant(self.operation["over"])].get("product") or "", {})
        pairs = self.product.get("recoat_over", {})
        found: list[Json] = pairs.get(product.get("name"), pairs.get(product.get("family"), product.get("recoat", [])))
        return found

    def windows(self) -> list[tuple[int, float, Json]]:
        """The windows that open, by the layer below, its product and the air of its room."""
        key = self.meant(self.operation["over"])
        lower, below = self.operations[key], self.source[key]
        if lower["finish"] is None or below.get("abandoned"):
            return []
        began = minute(below.get("wait_began") or lower["finish"]) or 0
        product = self.check.products.get(below.get("product") or "", {})
        rule = (product, product.get("doubles_per"), product.get("counts_above"))
        air = Air(self.check, below.get("room"))
        found = []
        for row in self.rows():
            begins = air.reached(began, row["from_hours"], *rule)
            ends = None if row.get("to_hours") is None else air.reached(began, row["to_hours"], *rule)
            if begins is not None:
                found.append((begins, math.inf if ends is None else ends, row))
        return found

    def window(self) -> Iterator[str]:
        begins, end = min([self.spans[0][0], *(start for start, _ in self.before())]), self.spans[-1][1]
        lead = sum(stop - start for start, stop in self.before())
        if self.before() and begins + lead != self.spans[0][0]:
            yield "what is put in before it does not lie right before it"
        inside = False
        for opens, closes, row in self.windows():
            needs = sum(NEEDS[need] for need in row.get("needs", []))
            inside = inside or (opens <= begins and end <= closes and lead <= needs)
        missed = "window-missed" in self.flags
        follows = any(link.get("within_minutes") is not None for link in self.links())
        if self.rows() and inside == missed and not (inside and follows):
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
        began = minute(self.operation.get("wait_began"))
        began = (minute(self.got["finish"]) or 0) if began is None else began
        wanted = dict(self.weather.computed(began))
        if self.is_spoilt(self.got):
            wanted = dict.fromkeys(wanted)
        for name, text in self.operation.get("reached", {}).items():
            end = wanted[name]
            is_told = later(text) <= self.check.now
            wanted[name] = later(text) if is_told else None if end is None else max(end, later(text))
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
