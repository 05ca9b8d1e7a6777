"""A checker of printed plans: the rules again, from the JSON alone, sharing no code with the planner.

It knows hours, people, links, own and product stages over the air of their room, cold, damp, open time, recoat windows,
tending, work in hand, pins, and what a build's finish comes to. It does not judge whether a plan is a good one.
"""

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from tests.planning.checked_facts import Facts, Json, minute
from tests.planning.checked_operation import Operation

__all__ = ["broken", "minute"]


def broken(document: Json, plan: Json) -> list[str]:
    """Everything in which a plan breaks the rules."""
    check = Check(document, plan)
    return [*check.all_there(), *check.operations(), *check.nobody_twice(), *check.builds()]


class Check(Facts):
    """The rules for a plan as a whole."""

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
