"""The checker finds what is wrong: plans spoilt in one place. Here waits, cold, things, dust, layers, tending."""

from typing import Any

import pytest

from tests.planning.checker import violations
from tests.planning.checker_sketch import operation
from tests.planning.checker_worlds import COOL, FULL, LAYERS, World, on

WORLDS = {"cool": COOL, "full": FULL, "layers": LAYERS}


@pytest.mark.parametrize("name", WORLDS)
def test_a_right_plan_passes(name: str) -> None:
    world = WORLDS[name]
    assert violations(world.document, world.plan()) == []


Case = tuple[World, dict[str, str | None], dict[str, dict[str, Any]], str]


def moved(world: World, path: str, at: str | None, said: str, **more: Any) -> Case:
    return world, {} if at is None else {path: at}, more, said


def flagged(world: World, path: str, said: str, *flags: str) -> Case:
    return world, {}, {"flags": {path: list(flags)}}, said


LAID: dict[str, Case] = {
    # 4 and the air
    "too cold, unsaid": flagged(COOL, "Desk.frost", "for the cold, where it should be [['too-cold']]"),
    "too cold for nothing": flagged(COOL, "Desk.bend", "where it should be [[]]", "too-cold"),
    "too cold, though somebody answers for it": flagged(COOL, "Desk.sure", "where it should be [[]]", "too-cold"),
    "suspect, unsaid": flagged(COOL, "Desk.old", "where it should be [['suspect-joint']", "cold-ahead"),
    "suspect by the usual air alone": flagged(COOL, "Desk.late", "where it should be [['cold-ahead']", "suspect-joint"),
    "cold ahead, unsaid": flagged(COOL, "Desk.late", "where it should be [['cold-ahead']"),
    "work over a suspect joint": moved(COOL, "Desk.rest", on(3, "08:00"), "which never comes", flags={"Desk.rest": []}),
    "work over frozen glue": moved(COOL, "Desk.dust", on(3, "08:00"), "which never comes", flags={"Desk.dust": []}),
    "damp, unsaid": flagged(
        COOL, "Desk.stain", "for the air, where it should be ['dew-point', 'too-humid']", "dew-point"
    ),
    "dew, unsaid": flagged(
        COOL, "Desk.stain", "for the air, where it should be ['dew-point', 'too-humid']", "too-humid"
    ),
    "damp for nothing": flagged(COOL, "Desk.bend", "for the air, where it should be []", "too-humid"),
    "open too short, unsaid": flagged(COOL, "Desk.glue", "min to put together, the glue stays open 10"),
    "open too short for nothing": flagged(COOL, "Desk.bend", "but nothing is known of that", "open-time"),
    "before its stage": moved(COOL, "Desk.plane", on(2, "10:29"), 'begins 1 min before "glue" to be "set" is over'),
    # 5
    "more clamps than there are": moved(FULL, "Desk.late", on(2, "12:29"), "takes clamps beyond 8"),
    "clamps that nobody took off": moved(
        FULL, "Desk.next", on(2, "17:00"), "takes clamps beyond 8", flags={"Desk.next": ["longer-than-shop-hours"]}
    ),
    "a jig too few, unsaid": flagged(FULL, "Desk.jig", "asks for 3 of 2 jig"),
    "a jig too few, for nothing": flagged(FULL, "Desk.glue", "takes no more than there is", "equipment-short"),
    "short of things it does not need": flagged(FULL, "Tray.coat", "but needs none", "equipment-short"),
    "two wet pieces in one place": moved(FULL, "Bowl.coat", on(2, "10:29"), "takes drying places of loft beyond 1"),
    # 6
    "sanding beside wet varnish": moved(FULL, "Bowl.sand", on(2, "10:29"), '"coat", which is wet for 1 min'),
    "dust that has not settled": moved(FULL, "Bowl.sand", on(2, "10:31"), "starts 29 min after the dust of builds[2]"),
    # 7
    "outside every window, unsaid": moved(FULL, "Bowl.again", on(2, "13:01"), "outside every window"),
    "no sanding where the window wants it": moved(LAYERS, "Desk.over.sand", "gone", "where its window needs ['sand']"),
    "sanding where no window wants it": moved(FULL, "Bowl.again.sand", on(2, "12:30"), "has ['sand'] put in"),
    "a gap after the sanding": moved(LAYERS, "Desk.over", on(2, "08:50"), "does not follow back to back"),
    "dust of the sanding not settled": moved(LAYERS, "Desk.over", on(2, "08:30"), "does not follow back to back"),
    "sanding of forty minutes": moved(
        LAYERS,
        "Desk.over",
        None,
        "of 40 min before it, not 30",
        spans={"Desk.over.sand": [[on(2, "07:50"), on(2, "08:30")]]},
    ),
    "sanding by another": moved(
        LAYERS, "Desk.over", None, "is done by ['maker 1'], but over.sand by", people={"Desk.over.sand": ["maker 2"]}
    ),
    "over oil as over varnish": moved(LAYERS, "Tray.film", on(3, "08:30"), "before the first window opens"),
    "over oil a minute too soon": moved(LAYERS, "Tray.film", on(4, "08:19"), "outside every window"),
    "sanded twice": moved(
        LAYERS, "Bowl.over.sand", on(2, "10:00"), "has ['sand'] put in before it, where its window needs []"
    ),
    "every window gone, unsaid": flagged(LAYERS, "Box.over", "outside every window, and is not flagged"),
    "missed, though a window stays open": moved(
        LAYERS, "Tray.film", on(3, "08:00"), "though the last one stays open", flags={"Tray.film": ["window-missed"]}
    ),
    "no rescue": moved(LAYERS, "Box.over.wash", "gone", "where the rescue is ['wash']"),
    "a window missed for nothing": flagged(LAYERS, "Bowl.over", "but lies inside a window", "window-missed"),
    "a window missed without one": flagged(LAYERS, "Box.joint", "has no window to miss", "window-missed"),
    "over a layer without windows, before its end": moved(
        LAYERS, "Box.bare", on(2, "12:59"), 'before the layer "joint"'
    ),
    # 8
    "followed too late, unsaid": moved(LAYERS, "Box.glue", on(2, "15:01"), "starts more than 120 min after"),
    "no wiping": moved(LAYERS, "Tray.oil.wipe", "gone", "has its tending wipe not planned"),
    "wiped too early": moved(LAYERS, "Tray.oil.wipe", on(2, "08:39"), "oil.wipe 1 min too early"),
    "wiped too late, unsaid": moved(LAYERS, "Tray.oil.wipe", on(2, "08:51"), "oil.wipe 1 min too late"),
    "wiped too late for nothing": flagged(
        LAYERS, "Tray.oil.wipe", "flagged window-missed, but in its time", "window-missed"
    ),
    "wiped by two": moved(
        LAYERS, "Tray.oil.wipe", None, "not 10 by one", people={"Tray.oil.wipe": ["maker 1", "maker 2"]}
    ),
    "wiped for an hour": moved(
        LAYERS, "Tray.oil.wipe", None, "of 60 min by", spans={"Tray.oil.wipe": [[on(2, "08:40"), on(2, "09:40")]]}
    ),
}


@pytest.mark.parametrize("name", LAID)
def test_work_that_lies_wrong_is_found(name: str) -> None:
    world, starts, more, said = LAID[name]
    found = violations(world.document, world.plan(starts, **more))
    assert any(said in one for one in found), found


STAGES = {
    "an hour by the clock": ("Desk.glue", "set", on(2, "09:30")),
    "a minute less": ("Desk.glue", "set", on(2, "10:29")),
    "a stage of its own rule stretched": ("Desk.glue", "machine", on(4, "08:30")),
    "hours of its own forgotten": ("Desk.bend", "set", on(2, "11:00")),
    "hours of its own that do not stretch": ("Desk.bend", "set", on(2, "12:00")),
    "a fixed stage stretched": ("Desk.bend", "held", on(2, "13:00")),
    "a stage of a suspect joint": ("Desk.old", "set", on(2, "09:30")),
}


@pytest.mark.parametrize("name", STAGES)
def test_a_stage_reached_at_another_time_is_found(name: str) -> None:
    path, stage, at = STAGES[name]
    plan = COOL.plan()
    assert operation(plan, path)["stages"][stage] != f"{at}:00-05:00"
    operation(plan, path)["stages"][stage] = f"{at}:00-05:00"
    found = violations(COOL.document, plan)
    assert any(f'has the stage "{stage}"' in one for one in found), found


def test_a_stage_that_is_not_there_is_missed() -> None:
    plan = COOL.plan()
    operation(plan, "Desk.glue")["stages"].pop("machine")
    assert any("has the stages ['set']" in one for one in violations(COOL.document, plan))


def test_parts_of_a_glue_up_are_said() -> None:
    plan = COOL.plan()
    operation(plan, "Desk.glue")["flags"][0]["says"] = "It takes 25 min, the glue stays open 10 min: be quick."
    assert any("not into how many parts: ['3']" in one for one in violations(COOL.document, plan))
