"""Plans laid by hand, for tests of the checker: where each operation starts is given, the rest is filled in.

A sketch takes what it is told, right or wrong, so that plans can be written down that no planner would make.
"""

import json
from datetime import datetime
from typing import Any

from tests.planning.checking.facts import Facts
from tests.planning.checking.finish import cured_at, done, lateness
from tests.planning.checking.reasons import asked
from tests.planning.checking.times import Json, Span, cut
from tests.planning.checking.weather import computed
from tests.planning.checking.works import PUT_IN, State, Work

MEANT = "{} is something to see to by 12:00, in 2 parts of 3 or 4."


def sketched(document: Json, starts: dict[str, str | None], **more: dict[str, Any]) -> Json:
    """Return the plan of a document in which work starts as told; keys are "Build.key", of inserted work too.

    `spans`, `people`, `flags` and `because` say of single operations what would not be guessed: split work runs on
    through the hours of its people, who are the first of the list.
    """
    return _Sketch(document, starts, more).plan()


class _Sketch:
    def __init__(self, document: Json, starts: dict[str, str | None], more: dict[str, dict[str, Any]]) -> None:
        self.document, self.starts, self.more = document, starts, more
        self.products = {one["name"]: one for one in document.get("products", [])}
        self.zone = Facts(document, {"builds": [self.bare(build) for build in document["builds"]]}).zone
        self.hours = Facts(document, {"builds": [self.bare(build) for build in document["builds"]]}).hours

    def plan(self) -> Json:
        laid = [self.build(build) for build in self.document["builds"]]
        plan: Json = {"benchtide": 1, "now": self.document["now"], "builds": laid, "flags": []}
        facts = Facts(self.document, plan)
        for work in facts.works:
            if work.state is not State.ABANDONED and work.finish is not None:
                work.stages = {
                    name: self.reached(facts, work, name, allowed) for name, allowed in computed(facts, work).items()
                }
                work.got["stages"] = {name: self.text(at) for name, at in work.stages.items()}
            for printed in (work, *work.pieces):
                is_planned = printed is not work or (work.is_to_come and work.is_laid)
                printed.got["because"] = self.reason(facts, printed.spans) if is_planned else None
        for build, source in zip(facts.builds, laid, strict=True):
            late = min(lateness(facts, build), key=lambda minutes: minutes or 0)
            source |= {"finish": self.text(done(build)), "cured": self.text(cured_at(build)), "minutes_late": late}
            source["flags"] = [self.flag("late")] if late else []
        found: Json = json.loads(json.dumps(plan))
        for path, because in self.more.get("because", {}).items():
            operation(found, path)["because"] = because
        return found

    def bare(self, build: Json) -> Json:
        blank = {"start": None, "finish": None, "spans": [], "people": [], "stages": {}, "flags": [], "because": None}
        return {"name": build["name"], "operations": [{"key": one["key"], **blank} for one in build["operations"]]}

    def build(self, build: Json) -> Json:
        name = build["name"]
        keys = [one["key"] for one in build["operations"]]
        inserted = [path[len(name) + 1 :] for path in self.starts if path.startswith(f"{name}.")]
        own = {one["key"]: one for one in build["operations"]}
        laid = [self.operation(f"{name}.{key}", key, own) for key in [*keys, *(k for k in inserted if k not in keys)]]
        laid.sort(key=lambda one: (one["start"] is None, cut(one["start"]) or 0))
        return {"name": name, "finish": None, "cured": None, "minutes_late": None, "flags": [], "operations": laid}

    def operation(self, path: str, key: str, own: dict[str, Json]) -> Json:
        source = own.get(key)
        flags = [self.flag(one) for one in self.more.get("flags", {}).get(path, [])]
        bare: Json = {"key": key, "people": [], "stages": {}, "because": None, "flags": flags, "latest_start": None}
        over = None if source is None else source.get("finished") or source.get("abandoned")
        if source is not None and over:
            return bare | {"start": source["started"], "finish": over, "spans": []}
        spans = self.spans(path, key, own)
        if not spans:
            return bare | {"start": None, "finish": None, "spans": []}
        is_running = source is not None and source.get("started") and not source.get("paused")
        texts = [[self.text(start), self.text(end)] for start, end in spans]
        start = source["started"] if source is not None and is_running else texts[0][0]
        bare |= {"start": start, "finish": texts[-1][1], "spans": texts, "latest_start": start}
        return bare | {"people": self.people(path, source)}

    def people(self, path: str, source: Json | None) -> list[str]:
        names = self.hours.named or [f"maker {number + 1}" for number in range(self.hours.count)]
        given: list[str] = self.more.get("people", {}).get(path, names[: (source or {}).get("makers", 1)])
        return given

    def spans(self, path: str, key: str, own: dict[str, Json]) -> list[Span]:
        given = self.more.get("spans", {}).get(path)
        if given is not None:
            return [(self.instant(start), self.instant(end)) for start, end in given]
        start = self.starts.get(path)
        if start is None:
            return []
        at = self.instant(start)
        if key not in own:
            return [(at, at + self.minutes(key, own))]
        work = Work(path, own[key], {"key": key, "start": None, "finish": None, "spans": [], "people": [],
                                     "flags": [], "because": None, "stages": {}}, {}, 0)  # fmt: skip
        minutes = min(work.lefts())
        run = self.hours.of(self.people(path, own[key])).run(at, minutes) if work.is_split else None
        return run or [(at, at + minutes)]

    def minutes(self, key: str, own: dict[str, Json]) -> int:
        """How long inserted work takes."""
        parent, name = key.rsplit(".", 1)
        tend = self.products.get(own[parent].get("product"), {}).get("tend", [])
        return next((int(one["minutes"]) for one in tend if one["key"] == name), PUT_IN.get(name, 15))

    def reached(self, facts: Facts, work: Work, name: str, allowed: set[int | None]) -> int | None:
        told = cut(work.source.get("reached", {}).get(name))
        at = min(allowed, key=lambda one: one or 0)
        return at if told is None or at is None else told if told <= facts.now else max(told, at)

    def reason(self, facts: Facts, spans: list[Span]) -> Json:
        if asked(facts, spans[0][0]) is not None:
            return {"why": "plan"}
        return {"why": "now" if spans[0][0] == facts.now else "shop-shut"}

    def flag(self, name: str) -> Json:
        return {"flag": name, "says": MEANT.format(name), "at": self.document["now"]}

    def instant(self, text: str) -> int:
        at = datetime.fromisoformat(text)
        return int((at if at.tzinfo else at.replace(tzinfo=self.zone)).timestamp() // 60)

    def text(self, at: int | None) -> str | None:
        return None if at is None else datetime.fromtimestamp(at * 60, self.zone).isoformat()


def operation(plan: Json, path: str) -> Json:
    """One operation of a plan by "Build.key"."""
    name, key = path.split(".", 1)
    build = next(one for one in plan["builds"] if one["name"] == name)
    found: Json = next(one for one in build["operations"] if one["key"] == key)
    return found
