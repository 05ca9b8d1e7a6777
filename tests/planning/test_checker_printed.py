"""The checker finds what is printed wrong: finishes, lateness, work done, the output itself, reasons."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.planning.checker import violations
from tests.planning.checker_sketch import operation
from tests.planning.checker_worlds import BEGUN, DUE, PLAIN, World
from tests.planning.shop import Json


def edit(path: str, **values: Any) -> Callable[[Json], Any]:
    return lambda plan: operation(plan, path).update(values)


def of_build(**values: Any) -> Callable[[Json], Any]:
    return lambda plan: plan["builds"][0].update(values)


def flagged(path: str, **values: Any) -> Callable[[Json], Any]:
    return lambda plan: operation(plan, path)["flags"][0].update(values)


LATE = "2026-02-09T08:00:00-05:00"
PRINTED: dict[str, tuple[World, Callable[[Json], Any], str]] = {
    # 9: when builds are done
    "done too soon": (
        PLAIN,
        of_build(finish="2026-02-05T13:00:00-05:00"),
        "but its last work and the stages it is to reach",
    ),
    "done without its stage": (DUE, of_build(finish="2026-02-02T09:00:00-05:00"), "but its last work and the stages"),
    "cured too soon": (DUE, of_build(cured="2026-02-02T09:00:00-05:00"), "but its last wait"),
    "less late": (PLAIN, of_build(minutes_late=10), "is said to be 10 min late"),
    "late on a shut day": (DUE, of_build(minutes_late=13 * 60 + 420), "min late, not [780]"),
    "late and not flagged": (PLAIN, of_build(flags=[]), "min late, but flagged []"),
    # 10: what is done
    "done work moved": (BEGUN, edit("Desk.glue", finish="2026-02-02T09:10:00-05:00"), "is done, but moved"),
    "done work again": (
        BEGUN,
        edit(
            "Desk.glue",
            spans=[[LATE, "2026-02-09T09:00:00-05:00"]],
            people=["maker 1"],
            finish="2026-02-09T09:00:00-05:00",
        ),
        "is done, but planned again",
    ),
    "running since now": (
        BEGUN,
        edit("Desk.sand", start="2026-02-02T10:00:00-05:00", latest_start=None),
        "is said to start",
    ),
    "a reason for what runs": (
        BEGUN,
        edit("Desk.sand", because={"why": "plan"}),
        "is running or blocked, but has a reason",
    ),
    "no reason": (PLAIN, edit("Desk.glue", because=None), "is to come, but has no reason"),
    "abandoned with waits": (BEGUN, edit("Desk.bad", stages={"set": LATE}), "was abandoned, but has waits"),
    "blocked with a latest start": (BEGUN, edit("Desk.never", stages={"set": LATE}), "is blocked, but has"),
    # the output
    "no list": (PLAIN, lambda plan: plan.pop("flags"), "cannot be read"),
    "another now": (PLAIN, lambda plan: plan.update(now=LATE), "now is"),
    "builds in another order": (PLAIN, lambda plan: plan["builds"].reverse(), "in this order"),
    "an operation lost": (PLAIN, lambda plan: plan["builds"][0]["operations"].pop(), "lacks the operation"),
    "an operation twice": (
        PLAIN,
        lambda plan: plan["builds"][1]["operations"].append(operation(plan, "Stool.mill")),
        "twice",
    ),
    "an operation more": (
        PLAIN,
        lambda plan: plan["builds"][1]["operations"].append({**operation(plan, "Stool.mill"), "key": "mill.rest"}),
        "which nothing asks for",
    ),
    "not in order of start": (PLAIN, lambda plan: plan["builds"][0]["operations"].reverse(), "not in order of start"),
    "a time without offset": (PLAIN, edit("Desk.glue", start="2026-02-03T09:00:00"), "is no instant"),
    "a key lost": (PLAIN, lambda plan: operation(plan, "Desk.glue").pop("latest_start"), "lacks ['latest_start']"),
    "another finish": (PLAIN, edit("Desk.glue", finish=LATE), "is not the end of its last span"),
    "spans that touch": (
        PLAIN,
        edit(
            "Desk.glue",
            spans=[
                ["2026-02-03T09:00:00-05:00", "2026-02-03T09:30:00-05:00"],
                ["2026-02-03T09:30:00-05:00", "2026-02-03T10:00:00-05:00"],
            ],
        ),
        "not after the one before",
    ),
    "nobody": (PLAIN, edit("Desk.glue", people=[]), "has 1 spans and the people []"),
    "a latest start before the start": (
        PLAIN,
        edit("Desk.glue", latest_start="2026-02-03T08:59:00-05:00"),
        "is before its start",
    ),
    "an unknown flag": (
        PLAIN,
        edit("Desk.glue", flags=[{"flag": "late", "says": "It is late.", "at": None}]),
        "which is not for this",
    ),
    "a flag that says nothing": (BEGUN, flagged("Desk.sand", says="too early"), "which is no sentence"),
    "an unknown reason": (PLAIN, edit("Desk.glue", because={"why": "weather"}), "is no reason"),
    # flags that cannot be
    "done and blocked": (
        BEGUN,
        edit("Desk.glue", flags=[{"flag": "blocked", "says": "It is so.", "at": None}]),
        "which cannot be",
    ),
    "done and short of makers": (
        BEGUN,
        edit("Desk.glue", flags=[{"flag": "maker-short", "says": "It is so.", "at": None}]),
        "which cannot be",
    ),
    "running and missed": (
        BEGUN,
        edit("Desk.sand", flags=[{"flag": "window-missed", "says": "It is so.", "at": None}]),
        "which cannot be",
    ),
    "to come and suspect": (
        PLAIN,
        edit("Desk.glue", flags=[{"flag": "suspect-joint", "says": "It is so.", "at": None}]),
        "which cannot be",
    ),
    # because
    "now, but later": (PLAIN, edit("Desk.glue", because={"why": "now"}), "says now, but the shop was open before"),
    "a reason at now": (
        PLAIN,
        edit("Desk.mill", because={"why": "maker", "until": LATE}),
        "could not start earlier but for now",
    ),
    "a reason that was over": (
        PLAIN,
        edit(
            "Desk.glue",
            because={"why": "order", "operation": "mill", "build": "Desk", "until": "2026-02-03T08:30:00-05:00"},
        ),
        "30 min before it starts",
    ),
    "a reason of nobody": (
        PLAIN,
        edit("Desk.glue", because={"why": "order", "operation": "none", "build": "Desk"}),
        "which is not there",
    ),
    "an order of nothing": (PLAIN, edit("Desk.glue", because={"why": "order"}), "says order, but not of what"),
}


@pytest.mark.parametrize("name", PRINTED)
def test_what_is_printed_wrong_is_found(name: str) -> None:
    world, spoil, said = PRINTED[name]
    plan = world.plan()
    spoil(plan)
    found = violations(world.document, plan)
    assert any(said in one for one in found), found
