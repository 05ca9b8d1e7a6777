"""Work in hand: it goes on first, with what is left of it; done and abandoned work, and waits that run."""

from typing import Any

import pytest

from tests.planning.shop import Json, build, op, planned, shop

GLUE: Json = {
    "name": "glue",
    "stages": [{"name": "clamps off", "hours": 1}, {"name": "machine", "hours": 168}],
}


RUNNING: Any = {"started": "2026-02-02T08:00:00-05:00"}


def test_it_goes_on_before_all_else_in_the_order_it_was_started() -> None:
    document = shop(
        build(op("new", 60), op("second", 60, started="2026-02-02T09:00:00-05:00"), op("first", 120, **RUNNING)),
        now="2026-02-02T10:00:00-05:00",
    )
    got = planned(document)
    assert [got.spans(key) for key in ("first", "second", "new")] == [
        ["Mon 10:00-12:00"],
        ["Mon 12:00-13:00"],
        ["Mon 13:00-14:00"],
    ]
    assert got.start("first") == "Mon 08:00"
    assert got.operation("first")["because"] is None


@pytest.mark.parametrize(
    ("so_far", "end"),
    [
        ({"worked_minutes": 90}, "10:30"),
        ({"worked_minutes": 150}, "10:12"),
        ({"worked_minutes": 50, "count": 24, "done": 15}, "10:30"),
        ({"worked_minutes": 120, "count": 24, "done": 24}, "10:01"),
        ({"count": 24, "done": 12}, "11:00"),
    ],
)
def test_what_is_left_is_counted(so_far: Json, end: str) -> None:
    got = planned(shop(build(op("taper", 120, **RUNNING, **so_far)), now="2026-02-02T10:00:00-05:00"))
    assert got.spans("taper") == [f"Mon 10:00-{end}"]


def test_paused_work_is_planned_like_any_other_with_what_is_left() -> None:
    paused = op("sand", 120, **RUNNING, paused=True, worked_minutes=60)
    got = planned(shop(build(op("first", 60), paused), now="2026-02-02T10:00:00-05:00"))
    assert got.spans("sand") == ["Mon 11:00-12:00"]
    assert got.why("sand") == "maker"


def test_a_running_glue_up_runs_past_closing() -> None:
    glue = op("glue", 60, "glue-up", started="2026-02-02T16:40:00-05:00", worked_minutes=10)
    got = planned(shop(build(glue), now="2026-02-02T16:50:00-05:00"))
    assert got.spans("glue") == ["Mon 16:50-17:40"]
    assert got.flags("glue") == ["longer-than-shop-hours"]


def test_and_goes_on_after_closing() -> None:
    glue = op("glue", 60, "glue-up", started="2026-02-02T16:40:00-05:00", worked_minutes=30)
    got = planned(shop(build(glue), now="2026-02-02T17:10:00-05:00"))
    assert got.spans("glue") == ["Mon 17:10-17:40"]


def test_running_milling_pauses_at_closing() -> None:
    mill = op("mill", 60, started="2026-02-02T16:40:00-05:00", worked_minutes=10)
    got = planned(shop(build(mill), now="2026-02-02T16:50:00-05:00"))
    assert got.spans("mill") == ["Mon 16:50-17:00", "Tue 08:00-08:40"]


def test_a_wait_that_began_before_the_work_ended_runs_from_there() -> None:
    glue = op("glue", 60, "glue-up", product="glue", **RUNNING, wait_began="2026-02-02T08:30:00-05:00")
    got = planned(shop(build(glue), products=[GLUE], now="2026-02-02T08:50:00-05:00"))
    assert got.operation("glue")["stages"]["clamps off"] == "2026-02-02T09:30:00-05:00"


def test_a_stage_not_dry_yet_is_not_before_the_next_look() -> None:
    """TA07: tacky at the test; what follows moves to the next look."""
    done = {"started": "2026-02-02T08:00:00-05:00", "finished": "2026-02-02T09:00:00-05:00"}
    glue = op("glue", 60, "glue-up", product="glue", **done, reached={"clamps off": "2026-02-02T14:00:00-05:00"})
    got = planned(
        shop(build(glue, op("next", after="glue:clamps off")), products=[GLUE], now="2026-02-02T11:00:00-05:00")
    )
    assert got.start("next") == "Mon 14:00"


def test_abandoned_work_blocks_what_follows_until_it_is_done_again() -> None:
    gone = op("glue", 20, "glue-up", product="glue", **RUNNING, abandoned="2026-02-02T08:10:00-05:00")
    plane = op("plane", 60, "mill", "glue:clamps off")
    now = "2026-02-02T09:00:00-05:00"
    got = planned(shop(build(gone, plane, op("oil", after="plane")), products=[GLUE], now=now))
    assert [got.flags(key) for key in ("glue", "plane", "oil")] == [[], ["blocked"], ["blocked"]]
    assert got.operation("glue")["stages"] == {}
    assert got.builds["Desk"]["finish"] is None
    assert got.builds["Desk"]["minutes_late"] is None
    again = op("glue2", 20, "glue-up", product="glue", again_for="glue")
    got = planned(shop(build(gone, plane, again), products=[GLUE], now=now))
    assert got.start("plane") == "Mon 10:20"
