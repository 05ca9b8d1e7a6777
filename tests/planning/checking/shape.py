"""The shape of the output: keys, times, order, flags, reasons."""

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from typing import Any

from tests.planning.checking.times import Json, cut, up

WHY = {
    "order", "stage", "recoat", "cold", "maker", "equipment", "room", "dust", "not-before", "pinned", "will-not-fit",
    "shop-shut", "now", "plan",
}  # fmt: skip
FLAGS = {
    "longer-than-shop-hours", "maker-short", "equipment-short", "too-cold", "cold-ahead", "suspect-joint", "blocked",
    "too-humid", "dew-point", "open-time", "window-missed", "too-early",
}  # fmt: skip
BUILD_KEYS = {"name", "finish", "cured", "minutes_late", "flags", "operations"}
KEYS = {"key", "start", "finish", "spans", "people", "stages", "latest_start", "because", "flags"}


def faults(document: Json, plan: Json) -> list[str]:
    """What is wrong with the shape; where anything is, nothing else can be asked."""
    try:
        return list(of_plan(document, plan))
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        return [f"the plan cannot be read: {type(error).__name__} {error}"]


def of_plan(document: Json, plan: Json) -> Iterator[str]:
    if plan.get("benchtide") != 1:
        yield "benchtide is not 1"
    if not is_instant(plan.get("now")) or cut(plan["now"]) != up(document["now"]):
        yield f"now is {plan.get('now')}, not {document['now']} rounded up"
    yield from (f"flags[{place}] {said}" for place, flag in enumerate(plan["flags"]) for said in of_flag(flag, None))
    names = [build["name"] for build in document["builds"]]
    if [build.get("name") for build in plan["builds"]] != names:
        yield f"builds are not {names} in this order"
        return
    needs = set(words(document))
    for number, (source, build) in enumerate(zip(document["builds"], plan["builds"], strict=True)):
        path = f'builds[{number}] "{build["name"]}"'
        yield from (f"{path} {said}" for said in of_build(source, build, needs, document))
        for place, one in enumerate(build.get("operations", [])):
            path = f'builds[{number}].operations[{place}] "{one.get("key")}"'
            yield from (f"{path} {said}" for said in of_operation(one))


def words(document: Json) -> Iterator[str]:
    """The names of all work that a window may need."""
    for product in document.get("products", []):
        yield from product.get("missed_needs", ["scuff"])
        for rows in (product.get("recoat", []), *product.get("recoat_over", {}).values()):
            yield from (need for row in rows for need in row.get("needs", []))


def of_build(source: Json, build: Json, needs: set[str], document: Json) -> Iterator[str]:
    if missing := BUILD_KEYS - set(build):
        yield f"lacks {sorted(missing)}"
        return
    yield from (f"{key} {build[key]} is no instant" for key in ("finish", "cured") if not is_instant(build[key], True))
    if build["minutes_late"] is not None and (type(build["minutes_late"]) is not int or build["minutes_late"] < 0):
        yield f"minutes_late {build['minutes_late']} is no number of minutes"
    yield from (said for flag in build["flags"] for said in of_flag(flag, {"late"}))
    keys = [one["key"] for one in build["operations"]]
    yield from (f"has the key {key} twice" for key in sorted(set(keys)) if keys.count(key) > 1)
    own = {one["key"]: one for one in source["operations"]}
    yield from (f"lacks the operation {key}" for key in own if key not in keys)
    tend = {one["name"]: {t["key"] for t in one.get("tend", [])} for one in document.get("products", [])}
    allowed = {f"{key}.{name}" for key, one in own.items() for name in needs | tend.get(one.get("product"), set())}
    yield from (f"has {key}, which nothing asks for" for key in keys if key not in own and key not in allowed)
    yield from (f"lists {one}, then {other}: not in order of start" for one, other in out_of_order(build["operations"]))


def out_of_order(operations: list[Json]) -> Iterator[tuple[str, str]]:
    for one, other in pairwise(operations):
        starts = cut(one["start"]), cut(other["start"])
        if starts[1] is not None and (starts[0] is None or starts[0] > starts[1]):
            yield one["key"], other["key"]


def of_operation(one: Json) -> Iterator[str]:
    if missing := KEYS - set(one):
        yield f"lacks {sorted(missing)}"
        return
    times = {key: one[key] for key in ("start", "finish", "latest_start")} | one["stages"]
    yield from (f"{name} {at} is no instant" for name, at in times.items() if not is_instant(at, True))
    yield from of_spans(one)
    if len(set(one["people"])) != len(one["people"]) or bool(one["people"]) != bool(one["spans"]):
        yield f"has {len(one['spans'])} spans and the people {one['people']}"
    yield from (said for flag in one["flags"] for said in of_flag(flag, FLAGS))
    said = [(flag["flag"], flag["says"]) for flag in one["flags"]]
    yield from (f"has the flag {name} twice" for name, says in sorted(set(said)) if said.count((name, says)) > 1)
    because = one["because"]
    if because is not None and (because.get("why") not in WHY or not is_instant(because.get("until"), True)):
        yield f"because {because} is no reason"
    if (one["start"] is None) != (one["finish"] is None) and "blocked" not in {name for name, _ in said}:
        yield "has a start or a finish without the other"
    latest, start = cut(one["latest_start"]), cut(one["start"])
    if latest is not None and (start is None or latest < start):
        yield f"latest_start {one['latest_start']} is before its start {one['start']}"


def of_spans(one: Json) -> Iterator[str]:
    last = None
    for begin, end in one["spans"]:
        if not (is_instant(begin) and is_instant(end)):
            yield f"span {begin} to {end} is no span"
            return
        begins, stops = cut(begin) or 0, cut(end) or 0
        if begins >= stops or (last is not None and begins <= last):
            yield f"span {begin} to {end} is empty, or not after the one before"
        last = stops
    if last is not None and cut(one["finish"]) != last:
        yield f"finish {one['finish']} is not the end of its last span"


def of_flag(flag: Json, known: set[str] | None) -> Iterator[str]:
    if known is not None and flag["flag"] not in known:
        yield f"has the flag {flag['flag']}, which is not for this"
    if not isinstance(flag.get("says"), str) or not flag["says"].endswith(".") or len(flag["says"].split()) < 3:
        yield f"flag {flag['flag']} says {flag.get('says')!r}, which is no sentence"
    if not is_instant(flag.get("at"), True):
        yield f"flag {flag['flag']} bites at {flag.get('at')}, which is no instant"


def is_instant(text: Any, or_none: bool = False) -> bool:
    """Whether a value is an ISO 8601 instant with an offset, to the minute."""
    if text is None:
        return or_none
    if not isinstance(text, str):
        return False
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return False
    return at.tzinfo is not None and at.timestamp() % 60 == 0
