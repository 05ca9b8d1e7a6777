"""The checker finds what is wrong: plans that are right, spoilt in one place."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from tests.planning.checker import broken
from tests.planning.shop import Json, build, op, shop
from webapp.planning.document import answer

OIL: Json = {
    "name": "oil",
    "stages": [{"name": "dry", "hours": 4}],
    "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 5, "minutes": 10}],
    "recoat": [{"from_hours": 5, "to_hours": 30, "needs": ["sand"]}],
}
DOCUMENT = shop(
    build(
        op("mill", 600),
        op("oil", 20, "coat", "mill", product="oil"),
        op("oil2", 20, "coat", product="oil", over="oil"),
        op("next", 60, "mill", "oil2:dry"),
        due="2026-02-03",
    ),
    products=[OIL],
    makers=2,
)


def at(plan: Json, key: str) -> Json:
    found: Json = next(one for one in plan["builds"][0]["operations"] if one["key"] == key)
    return found


def move(key: str, *spans: tuple[str, str]) -> Callable[[Json], Any]:
    """Lay an operation elsewhere, all its times with it."""

    def spoil(plan: Json) -> None:
        laid = [[f"2026-02-{start}:00-05:00", f"2026-02-{end}:00-05:00"] for start, end in spans]
        at(plan, key).update(spans=laid, start=laid[0][0], finish=laid[-1][1])

    return spoil


SPOILT: dict[str, Callable[[Json], Any]] = {
    "is not 600 minutes": move("mill", ("02T08:00", "02T17:00"), ("03T08:00", "03T08:59")),
    "lies outside the hours": move("mill", ("02T09:00", "02T19:00")),
    "starts before": move("oil", ("02T08:00", "02T08:20")),
    "pauses although": move("mill", ("02T08:00", "02T12:00"), ("02T12:01", "02T17:00"), ("03T08:00", "03T09:01")),
    "in two places": move("next", ("03T08:00", "03T09:00")),
    "stages": lambda plan: at(plan, "oil")["stages"].update(dry="2026-02-03T13:21:00-05:00"),
    "wipe starts": move("oil.wipe", ("03T09:46", "03T09:56")),
    "right before it": move("oil2.sand", ("03T14:00", "03T14:30")),
    "lies outside every window": move("oil2", ("03T14:00", "03T14:20")),
    "is not its last end": lambda plan: plan["builds"][0].update(finish="2026-02-04T10:00:00-05:00"),
    "minutes late": lambda plan: plan["builds"][0].update(minutes_late=0),
    "is not its last wait": lambda plan: plan["builds"][0].update(cured="2026-02-04T10:00:00-05:00"),
    "are not 1 makers": lambda plan: at(plan, "mill").update(people=["maker 1", "maker 2"]),
    "for nothing": lambda plan: at(plan, "mill").update(spans=[], start=None, people=[]),
    "is not planned": lambda plan: plan["builds"][0]["operations"].remove(at(plan, "oil.wipe")),
    "wanted ['mill'": lambda plan: plan["builds"][0]["operations"].append({**at(plan, "mill"), "key": "more"}),
    "says nothing": lambda plan: at(plan, "mill")["flags"].append({"flag": "late", "says": "late", "at": None}),
    "because of": lambda plan: at(plan, "mill").update(because=None),
    "not in order": lambda plan: plan["builds"][0]["operations"].reverse(),
}


def test_a_right_plan_passes() -> None:
    assert broken(DOCUMENT, json.loads(answer(json.dumps(DOCUMENT))[1])) == []


@pytest.mark.parametrize("said", SPOILT)
def test_a_spoilt_plan_does_not(said: str) -> None:
    plan = json.loads(answer(json.dumps(DOCUMENT))[1])
    SPOILT[said](plan)
    assert any(said in fault for fault in broken(DOCUMENT, plan)), broken(DOCUMENT, plan)


COLD = shop(
    build(
        op("glue", 30, "glue-up", product="glue"),
        op("coat", 30, "coat", product="film"),
        op("over", 30, "coat", product="film", over="coat"),
        op("late", 30, "glue-up", product="glue", not_before="2026-02-02T15:30:00-05:00"),
        op("follow", 30, "mill", "late"),
    ),
    products=[
        {"name": "glue", "rated_at": 20, "doubles_per": 6, "lowest": 10, "stages": [{"name": "set", "hours": 2}]},
        {"name": "film", "rated_at": 20, "doubles_per": 6, "humidity_max": 60, "recoat": [{"from_hours": 1}]},
    ],
    climate={
        "day": 20,
        "night": 12,
        "humidity": 65,
        "readings": [{"at": "2026-02-02T08:45:00-05:00", "temperature": 14}],
    },
    makers=2,
)


def unsaid(key: str, flag: str) -> Callable[[Json], Any]:
    def spoil(plan: Json) -> None:
        at(plan, key)["flags"] = [one for one in at(plan, key)["flags"] if one["flag"] != flag]

    return spoil


SPOILT_BY_AIR: dict[str, tuple[str, Callable[[Json], Any]]] = {
    "an end by elapsed time": (
        "stages",
        lambda plan: at(plan, "glue")["stages"].update(set="2026-02-02T10:30:00-05:00"),
    ),
    "a window by elapsed time": ("every window", move("over", ("02T09:30", "02T10:00"))),
    "damp not said": ("weather", unsaid("coat", "too-humid")),
    "cold said for nothing": (
        "cold",
        lambda plan: at(plan, "glue")["flags"].append(
            {"flag": "too-cold", "says": "Too cold.", "at": "2026-02-02T08:00:00-05:00"}
        ),
    ),
}


def test_a_right_plan_over_changing_air_passes() -> None:
    assert broken(COLD, json.loads(answer(json.dumps(COLD))[1])) == []


@pytest.mark.parametrize("case", SPOILT_BY_AIR)
def test_a_plan_that_forgets_the_air_does_not(case: str) -> None:
    said, spoil = SPOILT_BY_AIR[case]
    plan = json.loads(answer(json.dumps(COLD))[1])
    spoil(plan)
    assert any(said in fault for fault in broken(COLD, plan)), broken(COLD, plan)


def test_too_cold_must_be_said_and_what_follows_be_blocked() -> None:
    document = {**COLD, "shop": {**COLD["shop"], "climate": {"day": 20, "night": 4}}}
    plan = json.loads(answer(json.dumps(document))[1])
    assert broken(document, plan) == []
    assert at(plan, "follow")["start"] is None
    unsaid("late", "too-cold")(plan)
    found = broken(document, plan)
    assert any("Desk.late: cold" in fault for fault in found)
    assert any("Desk.follow: is blocked for nothing" in fault for fault in found)
