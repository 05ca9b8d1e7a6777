"""The checker's own reckoning: air minute by minute, who is in, whether something dawdles; and what it imports."""

import ast
import json
import math
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

import pytest

from tests.planning.checker import dawdles, violations
from tests.planning.checker_sketch import operation
from tests.planning.checker_worlds import FULL, LAYERS, PLAIN, World, on
from tests.planning.checking.air import Air, Rule
from tests.planning.checking.hours import WEEK, Hours
from tests.planning.checking.times import Json, cut
from tests.planning.invent import document

HERE = Path(__file__).parent


def newest(shop: Json, room: str, key: str, at: int) -> float | None:
    """What the newest reading that holds says; of one instant the later in the list."""
    said = [
        (cut(one["at"]) or 0, place, one.get(key, True))
        for place, one in enumerate(shop["climate"]["readings"])
        if one.get("room") in (None, room) and (one.get(key) is not None or (key == "counts" and key not in one))
    ]
    return max(((since, place, value) for since, place, value in said if at - 720 < since <= at), default=(0, 0, None))[
        2
    ]


def temperature(shop: Json, room: str, at: int, zone: ZoneInfo) -> float:
    read = newest(shop, room, "temperature", at)
    if read is not None:
        return read
    own = next((one.get("climate") or {} for one in shop["rooms"] if one["name"] == room), {})
    climate = {"day_from": "07:00", "day_to": "22:00"} | shop["climate"] | own
    clock = f"{datetime.fromtimestamp(at * 60, zone):%H:%M}"
    begin, end = climate["day_from"], climate["day_to"]
    is_day = begin <= clock < end if begin <= end else clock >= begin or clock < end
    return float(climate["day" if is_day else "night"])


@pytest.mark.parametrize("seed", range(12))
def test_waits_are_sums_of_minutes(seed: int) -> None:
    """The rule as it is written, each minute by itself; away from the change of clocks, where days are laid whole."""
    source = document(seed)
    shop, random = source["shop"], Random(seed)
    zone = ZoneInfo(shop["time_zone"])
    began = (cut("2026-02-10T08:00:00+00:00") or 0) + random.randint(0, 1440)
    shop["climate"]["readings"] += [
        {"at": datetime.fromtimestamp((began + after) * 60, zone).isoformat(), **said}
        for after, said in (
            (90, {"temperature": 12.5}),
            (300, {"counts": False, "humidity": 40}),
            (500, {"temperature": 25}),
        )
    ]
    rule = Rule(18.0, 8.0, bool(seed % 2), 11.0 if seed % 3 else None, random.choice([None, 13.0]))
    hours, total, at, limit = random.uniform(0.2, 12), 0.0, began, began + 365 * 1440
    while total < hours * 60 - 1e-9 and at < began + 3 * 1440:
        warmth, counts = temperature(shop, "loft", at, zone), bool(newest(shop, "loft", "counts", at) is not False)
        rate = rule.rate(warmth, counts)
        last, total, at = rate, total + rate, at + 1
    found = Air(shop, "loft", zone, datetime(2026, 2, 1, tzinfo=zone).date()).reached(began, hours, rule)
    exact = at - (total - hours * 60) / last
    if total >= hours * 60 - 1e-9:
        assert min(abs((one or limit) - math.ceil(exact - 1 / 60 - 1e-6)) for one in found) == 0
    else:
        assert found == {None} or min(one or limit for one in found) > at


@pytest.mark.parametrize("seed", range(6))
def test_who_is_in_is_asked_of_each_minute(seed: int) -> None:
    source = document(seed)
    shop = source["shop"] | {"makers": [{"name": "A"}, {"name": "B", "hours": source["shop"]["hours"][:2]}]}
    zone, first = ZoneInfo(shop["time_zone"]), datetime.fromisoformat(source["now"]).date()
    line = Hours(shop, zone, first - timedelta(days=1)).of(["A", "B"])
    begin = cut(source["now"]) or 0
    for at in range(begin, begin + 4 * 1440, 7):
        assert line.covers(at, at + 1) == (is_in(shop, "A", at, zone) and is_in(shop, "B", at, zone)), at


def is_in(shop: Json, who: str, at: int, zone: ZoneInfo) -> bool:
    """As the rule is written: weekly hours unless it is closed, extra hours for all, the wall clock."""
    wall = datetime.fromtimestamp(at * 60, zone)
    day, clock = wall.date().isoformat(), f"{wall:%H:%M}"
    rows = [row for row in shop["extra"] if row["date"] == day]
    if not any(one["from"] <= day <= one.get("to", one["from"]) for one in shop["closed"]):
        own = next(one for one in shop["makers"] if one["name"] == who).get("hours", shop["hours"])
        rows += [row for row in own if WEEK[wall.weekday()] in row["days"]]
    return any(row["open"] <= clock < row["close"] for row in rows)


EARLIER: dict[str, tuple[World, dict[str, str | None], str]] = {
    "work put off for nothing": (PLAIN, {"Stool.mill": on(4, "08:01")}, 'builds[1].operations[0] "mill"'),
    "milling nobody waits for": (FULL, {"Bowl.mill": on(2, "14:00")}, 'builds[2].operations[3] "mill"'),
    "wiping put off": (LAYERS, {"Tray.oil.wipe": on(2, "08:45")}, 'builds[1].operations[1] "oil.wipe"'),
    "a layer with its sanding": (
        LAYERS,
        {"Desk.over.sand": on(2, "15:45"), "Desk.over": on(2, "16:30")},
        'builds[0].operations[1] "over.sand"',
    ),
}


@pytest.mark.parametrize("name", EARLIER)
def test_what_could_start_earlier_is_told(name: str) -> None:
    world, starts, path = EARLIER[name]
    plan = world.plan(starts)
    assert violations(world.document, plan) == []
    assert path in [said.split(" could ")[0] for said in dawdles(world.document, plan)]


def test_what_is_kept_does_not_dawdle() -> None:
    """By its order, its people, clamps, a place, dust, a window, its tending, a date."""
    kept = {"PLAIN": PLAIN, "FULL": FULL, "LAYERS": LAYERS}
    found = {name: [said.split('"')[1] for said in dawdles(one.document, one.plan())] for name, one in kept.items()}
    assert found == {"PLAIN": [], "FULL": ["jig", "mill"], "LAYERS": ["mine", "glue"]}


def test_the_checker_knows_no_planner() -> None:
    files = [HERE / "checker.py", *(HERE / "checking").glob("*.py")]
    assert len(files) > 10
    names = {
        name
        for file in files
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        for name in ([node.module or ""] if isinstance(node, ast.ImportFrom) else [])
        + ([alias.name for alias in node.names] if isinstance(node, ast.Import) else [])
    }
    assert {name for name in names if name.split(".")[0] not in ("tests",)} <= {
        "ast", "bisect", "collections.abc", "dataclasses", "datetime", "enum", "functools", "itertools", "math",
        "typing", "zoneinfo",
    }  # fmt: skip
    assert all(name.startswith("tests.planning.checking") for name in names if name.startswith("tests"))


def test_whatever_is_printed_is_judged_without_a_fall() -> None:
    """A plan with anything anywhere is found wrong, or passes; it never ends the checker."""
    random = Random(5)
    odd = [None, 0, "", "2026-02-02T08:00:00-05:00", [], {}, [["x"]], "glue", True]
    right = json.dumps(LAYERS.plan())
    for _ in range(150):
        plan = json.loads(right)
        one = operation(plan, random.choice(["Desk.over", "Tray.oil", "Tray.oil.wipe", "Box.glue"]))
        one[random.choice(list(one))] = random.choice(odd)
        assert isinstance(violations(LAYERS.document, plan), list)
