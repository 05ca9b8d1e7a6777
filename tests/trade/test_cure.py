"""The cure clock: elapsed waits, their rounding, and what a test of the film says against them."""

import json
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from webapp.trade.cure import (
    LONGEST_WAIT,
    Recoat,
    Stage,
    Tend,
    Window,
    joined,
    recoat_windows,
    stage_ends,
    tendings,
    whole_minutes,
)

REFERENCE = Path(__file__).parent.parent / "reference" / "cpm_examples.json"
WAITS = json.loads(REFERENCE.read_text(encoding="utf-8"))["calendar_waits"]["cases"]


def minutes(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp()) // 60


def wall(instant: int | None, zone: str) -> str:
    return datetime.fromtimestamp((instant or 0) * 60, ZoneInfo(zone)).isoformat(timespec="minutes")


@pytest.mark.parametrize(
    ("start", "hours", "zone", "end"),
    [
        ("2026-03-07T14:00:00-05:00", 24, "America/New_York", "2026-03-08T15:00-04:00"),
        ("2026-03-28T20:30:00+00:00", 12, "Europe/London", "2026-03-29T09:30+01:00"),
    ],
)
def test_a_wait_counts_real_hours_when_the_clocks_change(start: str, hours: int, zone: str, end: str) -> None:
    """TA30: the ends by the IANA zone data."""
    ends = stage_ends(minutes(start), [Stage("full strength", hours)])
    assert wall(ends["full strength"], zone) == end


@pytest.mark.parametrize("case", [case for case in WAITS if "elapsed_hours" in case], ids=lambda case: case["case"])
def test_a_wait_over_a_clock_change_ends_as_published(case: dict[str, str]) -> None:
    """Source: calendar arithmetic with IANA zones, in cpm_examples.json."""
    ends = stage_ends(minutes(case["start"]), [Stage("cured", float(case["elapsed_hours"]))])
    assert ends["cured"] == minutes(case["end"]) != minutes(case["wrong_wall_clock_end"])


def test_elapsed_time_is_the_difference_of_instants_not_of_wall_clocks() -> None:
    """SA08: from 14:00 to 14:00 over the night the clocks go forward are 23 h."""
    zone = ZoneInfo("America/New_York")
    start, end = datetime(2026, 3, 7, 14, tzinfo=zone), datetime(2026, 3, 8, 14, tzinfo=zone)
    assert (end - start).total_seconds() / 3600 == 24  # what the trap gives
    assert minutes(end.isoformat()) - minutes(start.isoformat()) == 23 * 60


@pytest.mark.parametrize(
    ("hours", "whole"),
    [(1.06, 64), (2.00000002, 120), (0.1, 6), (0, 0), (1 / 3600, 1), (0.9 / 3600, 0), (168, 10080), (1.26, 76)],
)
def test_an_end_is_rounded_up_once_a_second_is_over(hours: float, whole: int) -> None:
    assert whole_minutes(hours) == whole


def test_two_ends_of_one_wait() -> None:
    """TA03: out of clamps after an hour, ready to machine after a week."""
    start = minutes("2026-02-02T10:00:00-05:00")
    ends = stage_ends(start, [Stage("clamps off", 1), Stage("machine", 168)])
    assert [wall(end, "America/New_York") for end in ends.values()] == [
        "2026-02-02T11:00-05:00",
        "2026-02-09T10:00-05:00",
    ]


def test_an_own_stage_of_the_same_name_replaces_the_hours_and_keeps_the_rule() -> None:
    product = [Stage("clamps off", 1), Stage("machine", 168, own_rule=True)]
    assert joined(product, [Stage("clamps off", 12), Stage("machine", 24)]) == (
        Stage("clamps off", 12),
        Stage("machine", 24, own_rule=True),
    )
    assert joined(product, [Stage("clamps off", 12, True, 4.0)])[0] == Stage("clamps off", 12, True, 4.0)


def test_a_stage_of_the_operation_alone_is_fixed_hours() -> None:
    assert joined([], [Stage("rest", 72)]) == (Stage("rest", 72, own_rule=True, doubles_per=None),)


@pytest.mark.parametrize(
    ("reached", "now", "end"),
    [(650, 700, 650), (750, 800, 750), (750, 700, 750), (655, 651, 660), (630, None, 630)],
    ids=["early", "late", "not before", "not before, but not dry by then either", "no present"],
)
def test_what_was_tested_stands_against_the_clock(reached: int, now: int | None, end: int) -> None:
    assert stage_ends(600, [Stage("dry", 1)], reached={"dry": reached}, now=now) == {"dry": end}


def test_a_wait_of_more_than_a_year_has_no_end() -> None:
    assert stage_ends(0, [Stage("long", 8760), Stage("longer", 8761)]) == {"long": LONGEST_WAIT, "longer": None}


def test_tending_comes_in_order_of_time() -> None:
    """Wiping after 20 minutes, a look for bleed-out after 100: common practice, no source."""
    found = tendings(600, [Tend("look", 100, 30, 10), Tend("wipe", 20, 10, 15)])
    assert [(one.key, one.at, one.by, one.minutes) for one in found] == [("wipe", 620, 630, 15), ("look", 700, 730, 10)]


def test_windows_with_a_hole_stay_apart() -> None:
    """TA05: within 2 h, or after 72 h with sanding."""
    start = minutes("2026-02-13T09:00:00-05:00")
    first, second = recoat_windows(start, [Window(0, 2), Window(72, None, ("sand",))])
    assert (first.begin, first.end) == (start, start + 120)
    assert second == Recoat(minutes("2026-02-16T09:00:00-05:00"), None, ("sand",))
