"""The cure clock: waits, their rounding, the temperature, and what a test of the film says against them."""

import json
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.read import rows
from tests.trade.air.test_climate import INSTANTS, PROFILES, READINGS
from webapp.trade.air.climate import History, Profile
from webapp.trade.air.pace import Pace
from webapp.trade.air.readings import Reading
from webapp.trade.waits.clock import LONGEST_WAIT, whole_minutes
from webapp.trade.waits.cure import (
    Recoat,
    Rule,
    Stage,
    Tend,
    Window,
    joined,
    paced,
    recoat_windows,
    stage_ends,
    tendings,
)

REFERENCE = Path(__file__).parent.parent.parent / "reference" / "cpm_examples.json"
WAITS = json.loads(REFERENCE.read_text(encoding="utf-8"))["calendar_waits"]["cases"]


def minutes(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp()) // 60


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


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
    assert whole_minutes(hours * 60) == whole


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


YELLOW = Pace(rated_at=celsius(70), doubles_per=15 / 1.8)
LABEL = (Stage("clamps off", 1), Stage("full strength", 24))


@pytest.mark.parametrize(
    ("temperature", "clamps", "strength"),
    [
        (celsius(55), 120, 2880),
        (12.8, 120, 2875),
        (celsius(65), 76, 1815),
        (celsius(70), 60, 1440),
        (celsius(90), 60, 1440),
    ],
)
def test_a_cool_shop_doubles_both_times(temperature: float, clamps: int, strength: int) -> None:
    """TA01: t = t70 x 2^((70-T)/15), a woodworking magazine; 55 °F is 12.8 °C to a tenth."""
    ends = stage_ends(0, LABEL, pace=YELLOW, history=History.constant(temperature))
    assert ends == {"clamps off": clamps, "full strength": strength}


def test_a_reading_later_on_reckons_from_the_start() -> None:
    """TA01: both ends move from when the wait began, not from when the reading was taken."""
    began = minutes("2026-02-02T10:00:00-05:00")
    first = stage_ends(began, LABEL, pace=YELLOW, history=History.constant(celsius(70)))
    read = History(Profile(celsius(70), celsius(70)), [Reading(began, celsius(55))])
    later = stage_ends(began, LABEL, pace=YELLOW, history=read)
    assert [end - began for end in first.values() if end] == [60, 1440]
    assert [end - began for end in later.values() if end] == [120, 1440 + 360]


def test_each_stage_has_its_own_rule() -> None:
    """TA03: glue sets by the doubling rule, the water in the joint leaves by none that anybody gives."""
    label = (*LABEL, Stage("machine", 168, own_rule=True))
    cold = History.constant(celsius(55))
    assert stage_ends(0, label, pace=YELLOW, history=cold) == {
        "clamps off": 120,
        "full strength": 2880,
        "machine": 7 * 1440,
    }
    found = paced(label, pace=YELLOW)
    assert [one.rule for one in found] == [Rule.DOUBLES, Rule.DOUBLES, Rule.UNKNOWN]
    assert [one.pace.doubles_per for one in found] == [YELLOW.doubles_per, YELLOW.doubles_per, None]
    assert found[-1].rule.value == "no known rule: test it"


def test_hours_that_an_operation_sets_do_not_follow_the_cold() -> None:
    own = [Stage("clamps off", 12), Stage("rest", 72)]
    cold = History.constant(celsius(55))
    ends = stage_ends(0, LABEL, own, pace=YELLOW, history=cold)
    assert (ends["clamps off"], ends["rest"]) == (24 * 60, 72 * 60)
    assert paced(LABEL, own, YELLOW)[-1].rule is Rule.AS_SET
    assert stage_ends(0, [], own, pace=Pace(counts_above=50.0), history=cold)["rest"] == 72 * 60


@pytest.mark.parametrize("shut", [True, False])
def test_only_hours_under_the_right_conditions_count(shut: bool) -> None:
    """TA08: 8 + 12 + 4 h with the windows open are 24; without the log it would be a day. A finish maker's rule."""
    log = [
        Reading(minutes(f"2026-02-{day:02}T{hour:02}:00:00-05:00"), 20.0, counts=hour == 6)
        for day in (2, 3, 4)
        for hour in (6, 18)
    ]
    history = History(Profile(20.0, 20.0), log if shut else [])
    began = minutes("2026-02-02T10:00:00-05:00")
    (window,) = recoat_windows(began, [Window(24)], Pace(20.0), history)
    assert wall(window.begin, "America/New_York") == f"2026-02-0{4 if shut else 3}T10:00-05:00"


def test_recoat_windows_stretch_at_both_ends() -> None:
    """TA06: the figures of a warm shop are not those of a cold one; the doubling is the label's here."""
    cold = History.constant(celsius(55))
    assert recoat_windows(0, [Window(2, 3), Window(24)], YELLOW, cold) == (
        Recoat(240, 360, ()),
        Recoat(2880, None, ()),
    )


def test_a_window_that_never_opens_is_none_and_one_that_never_shuts_stays_open() -> None:
    history = History(Profile(5.0, 5.0), [Reading(0, 20.0)])
    pace = Pace(counts_above=10.0)
    assert recoat_windows(0, [Window(1, 24), Window(30)], pace, history) == (Recoat(60, None, ()),)


def test_what_is_not_dry_by_then_is_not_dry_before() -> None:
    """TA07: still tacky, look again later; what is never reached is not reached then either."""
    never = History.constant(5.0)
    pace = Pace(counts_above=10.0)
    ends = stage_ends(0, [Stage("dry", 24)], reached={"dry": 2000}, now=1500, pace=pace, history=never)
    assert ends == {"dry": None}
    assert stage_ends(0, [Stage("dry", 24)], reached={"dry": 2000}, now=1500)["dry"] == 2000


def test_dry_to_touch_is_not_cured() -> None:
    """TA09: last coat on Sun 3 May 2026, dry in two days, hard on 2 June; a finisher's page."""
    stages = [Stage("dry to touch", 48), Stage("cured", 30 * 24)]
    ends = stage_ends(minutes("2026-05-03T12:00:00-04:00"), stages, pace=Pace(rated_at=celsius(70)))
    assert wall(ends["dry to touch"], "America/New_York")[:10] == "2026-05-05"
    assert wall(ends["cured"], "America/New_York")[:10] == "2026-06-02"


def test_a_waterborne_coat_has_no_rule_for_the_cold() -> None:
    """TA10: the label's 2 h are for 70 °F and 50 %; at 58 °F and 85 % nobody knows, so it is to be tested."""
    (coat,) = paced([Stage("next coat", 2)], pace=Pace(rated_at=celsius(70)))
    assert coat.rule is Rule.UNKNOWN


PRESSED = [
    row
    for row in rows("adhesive_times.csv")
    if row["how_known"] == "read" and row["unit"] in ("min", "h", "day") and row["high"]
    if row["quantity"].startswith(("clamp time", "sets", "strong bond", "wait before"))
]


def test_published_clamp_times_double_in_a_cool_shop_where_the_rule_is_known() -> None:
    """Times as read in adhesive_times.csv; the doubling per 15 °F is of one magazine and said of wood glue."""
    unit = {"min": 1, "h": 60, "day": 1440}
    for row in PRESSED:
        told = float(row["high"]) * unit[row["unit"]]
        stage = [Stage(row["quantity"], told / 60)]
        assert list(stage_ends(0, stage, pace=YELLOW, history=History.constant(celsius(70))).values()) == [told]
        assert list(stage_ends(0, stage, pace=YELLOW, history=History.constant(celsius(55))).values()) == [2 * told]
    assert len(PRESSED) == 11


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, began=INSTANTS, hours=st.floats(0, 400), longer=st.floats(0, 100))
def test_more_hours_are_never_reached_sooner(
    profile: Profile, readings: list[Reading], began: int, hours: float, longer: float
) -> None:
    stages = [Stage("first", hours), Stage("second", hours + longer)]
    first, second = stage_ends(began, stages, pace=YELLOW, history=History(profile, readings)).values()
    assert first is not None
    assert second is None or began <= first <= second
