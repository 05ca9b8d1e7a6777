"""The checker finds what is wrong: right plans, spoilt in one place. Here hours, people, order, work in hand."""

from typing import Any

import pytest

from tests.planning.checker import violations
from tests.planning.checker_worlds import BEGUN, DUE, LONG, PLAIN, World, on

WORLDS = {"plain": PLAIN, "long": LONG, "begun": BEGUN, "due": DUE}


@pytest.mark.parametrize("name", WORLDS)
def test_a_right_plan_passes(name: str) -> None:
    world = WORLDS[name]
    assert violations(world.document, world.plan()) == []


Case = tuple[World, dict[str, str | None], dict[str, dict[str, Any]], str]


def moved(world: World, path: str, at: str | None, said: str, **more: Any) -> Case:
    return world, {path: at}, more, said


WHOLE = [on(2, "08:00"), on(2, "17:00")]
LAID: dict[str, Case] = {
    # 1: hours and people
    "too little work": moved(
        PLAIN, "Desk.fetch", None, "has 19 min of work", spans={"Desk.fetch": [[on(3, "12:00"), on(3, "12:19")]]}
    ),
    "a pause at noon": moved(
        PLAIN,
        "Desk.mill",
        None,
        "pauses for 60 min in which ['A'] are in",
        spans={
            "Desk.mill": [
                [on(2, "08:00"), on(2, "12:00")],
                [on(2, "13:00"), on(2, "17:00")],
                [on(3, "08:00"), on(3, "10:00")],
            ]
        },
    ),
    "in the evening": moved(
        PLAIN,
        "Desk.mill",
        None,
        "lies outside the hours of ['A']",
        spans={"Desk.mill": [[on(2, "08:00"), on(2, "18:00")]]},
    ),
    "on a day of another's": moved(PLAIN, "Desk.lift", on(4, "13:00"), "lies outside the hours of ['A', 'B']"),
    "one piece in parts": moved(
        PLAIN,
        "Desk.glue",
        None,
        "is of one piece, but lies in parts",
        spans={"Desk.glue": [[on(3, "16:30"), on(3, "17:00")], [on(4, "08:00"), on(4, "08:30")]]},
    ),
    "a quarter before closing": moved(
        PLAIN, "Stool.mill", on(4, "16:45"), "begins 15 min before closing, less than 30"
    ),
    "one maker where two are asked for": moved(
        PLAIN, "Desk.lift", on(5, "13:00"), "asks for 2 makers and has ['A']", people={"Desk.lift": ["A"]}
    ),
    "short of makers who meet": moved(
        PLAIN,
        "Desk.lift",
        on(5, "13:00"),
        "but 2 of 2 makers could meet",
        people={"Desk.lift": ["A"]},
        flags={"Desk.lift": ["maker-short"]},
    ),
    "two makers for one": moved(
        PLAIN, "Desk.fetch", on(5, "14:30"), "asks for 1 makers and has", people={"Desk.fetch": ["A", "B"]}
    ),
    "short of makers for nothing": moved(
        PLAIN, "Stool.mill", on(4, "08:00"), "asks for 1 makers", flags={"Stool.mill": ["maker-short"]}
    ),
    "a stranger": moved(PLAIN, "Stool.mill", on(4, "08:00"), "who are not of the shop", people={"Stool.mill": ["C"]}),
    "more strangers than people": moved(
        LONG, "Desk.oil", on(2, "18:30"), "but the shop has 1 people", people={"Desk.oil": ["maker 2"]}
    ),
    "in two places": moved(PLAIN, "Desk.glue", on(5, "13:30"), "needs A, who is at other work then"),
    "past closing unsaid": moved(LONG, "Desk.glue", on(7, "09:00"), "lies outside the hours", flags={"Desk.glue": []}),
    "past closing for nothing": moved(
        LONG,
        "Desk.oil",
        on(2, "18:30"),
        "longer-than-shop-hours, but lies inside",
        flags={"Desk.oil": ["longer-than-shop-hours"]},
    ),
    "past closing from the middle": moved(LONG, "Desk.glue", on(7, "10:00"), "does not begin when ['maker 1'] come in"),
    "past closing of a short evening": moved(LONG, "Desk.glue", on(3, "18:00"), "not from the longest opening"),
    # 2, 11: order, dates, pins
    "before its order": moved(PLAIN, "Desk.glue", on(2, "16:00"), 'min before "mill" is over'),
    "before its date": moved(PLAIN, "Desk.fetch", on(3, "11:00"), "begins 60 min before its not_before"),
    "before the date of its build": moved(PLAIN, "Stool.mill", on(3, "13:00"), "begins 660 min before its not_before"),
    "before now": moved(BEGUN, "Desk.again", on(2, "09:30"), "is planned 30 min before now"),
    "off its pin": moved(BEGUN, "Desk.fixed", on(4, "11:00"), "is pinned to"),
    "on another day than pinned": moved(BEGUN, "Desk.day", on(6, "08:00"), "is pinned to"),
    # 10: work in hand
    "not all that is left": moved(
        BEGUN,
        "Desk.sand",
        None,
        "has 120 min of work, not [90]",
        spans={"Desk.sand": [[on(2, "10:00"), on(2, "12:00")]]},
    ),
    "a batch at the pace of its estimate": moved(
        BEGUN,
        "Desk.shape",
        None,
        "has 54 min of work, not [68]",
        spans={"Desk.shape": [[on(2, "12:08"), on(2, "13:02")]]},
    ),
    "running work that waits": moved(BEGUN, "Desk.sand", on(2, "10:30"), "could go on 30 min earlier"),
    "running work before now": moved(BEGUN, "Desk.sand", on(2, "09:30"), "goes on before now"),
    "begun too early, unsaid": moved(
        BEGUN, "Desk.sand", on(2, "10:00"), "is not flagged too-early", flags={"Desk.sand": []}
    ),
    "begun too early, for nothing": moved(
        BEGUN, "Desk.shape", on(2, "12:08"), "when all it waits for was over", flags={"Desk.shape": ["too-early"]}
    ),
    "not begun and too early": moved(
        BEGUN, "Desk.day", on(5, "08:00"), "but has not started", flags={"Desk.day": ["too-early"]}
    ),
    "after abandoned work": moved(
        BEGUN, "Desk.never", on(6, "08:00"), "which never comes, but is not blocked", flags={"Desk.never": []}
    ),
    "blocked with dates": moved(BEGUN, "Desk.never", on(6, "08:00"), "which never comes, but is not blocked"),
    "blocked for nothing": moved(
        BEGUN, "Desk.next", None, "is blocked, but nothing it waits for is", flags={"Desk.next": ["blocked"]}
    ),
    "before what does it again": moved(BEGUN, "Desk.next", on(2, "13:30"), 'min before "again" to be "set" is over'),
}


@pytest.mark.parametrize("name", LAID)
def test_work_that_lies_wrong_is_found(name: str) -> None:
    world, starts, more, said = LAID[name]
    found = violations(world.document, world.plan(starts, **more))
    assert any(said in one for one in found), found


def test_a_group_of_rules_may_be_left_out() -> None:
    plan = PLAIN.plan({"Desk.fetch": on(3, "11:00")})
    assert violations(PLAIN.document, plan, without=["order", "finish", "reasons"]) == []


def test_a_fault_begins_with_its_path() -> None:
    found = violations(PLAIN.document, PLAIN.plan({"Desk.fetch": on(3, "11:00")}))
    assert found == ['builds[0].operations[2] "fetch" begins 60 min before its not_before.']
