"""The lowest temperature of a glue: work is laid where it stays warm, and what has begun is judged by what was read."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planning.checker import minute
from tests.planning.checking.facts import Facts
from tests.planning.shop import EVENINGS, Got, Json, build, op, planned, shop

PVA: Json = {
    "name": "PVA",
    "rated_at": 21,
    "doubles_per": 8,
    "lowest": 10,
    "lowest_for_hours": 4,
    "stages": [{"name": "clamps off", "hours": 1}],
}
WARM_DAYS: Json = {"day": 21, "night": 5, "day_to": "20:00"}
LATER: list[Any] = [op("plane", 60, "mill", "glue:clamps off"), op("sweep", 10, "other", "glue")]


def glue(**more: Any) -> Json:
    return op("glue", 30, "glue-up", product="PVA", **more)


def read(at: str, temperature: float, **more: Any) -> Json:
    return {"at": f"2026-02-{at}:00-05:00", "temperature": temperature, **more}


def glued(finished: str = "02T10:30", **more: Any) -> Json:
    """A glue-up of half an hour, done."""
    end = datetime.fromisoformat(f"2026-02-{finished}:00-05:00")
    return glue(started=(end - timedelta(minutes=30)).isoformat(), finished=end.isoformat(), **more)


def plan(*operations: Json, now: str = "02T16:00", product: Json = PVA, climate: Json = WARM_DAYS, **more: Any) -> Got:
    return planned(shop(build(*operations), products=[product], climate=climate, now=f"2026-02-{now}:00-05:00", **more))


def test_work_is_begun_when_it_stays_warm_long_enough() -> None:
    """At 16:00 with half an hour of work and four hours after it, the cold of 20:00 comes half an hour too soon."""
    assert plan(glue()).start("glue") == "Tue 08:00"
    assert plan(glue()).operation("glue")["because"] == {"why": "cold", "until": "2026-02-03T07:00:00-05:00"}
    assert plan(glue(), now="02T15:30").start("glue") == "Mon 15:30"


def test_the_cold_of_a_reading_holds_off_work_as_long_as_it_holds() -> None:
    climate = {"day": 21, "night": 21, "readings": [read("02T09:00", 6)]}
    got = plan(glue(), now="02T10:00", climate=climate, hours=EVENINGS)
    assert got.start("glue") == "Mon 21:00"
    assert got.why("glue") == "cold"


def test_the_room_of_the_work_decides() -> None:
    rooms = [{"name": "cellar", "climate": {"day": 12, "night": 12}}]
    got = plan(glue(room="cellar"), rooms=rooms)
    assert got.start("glue") == "Mon 16:00"
    assert got.operation("glue")["stages"]["clamps off"] == "2026-02-02T18:41:00-05:00"  # 60 x 2^(9/8) is 130.9


def test_what_has_to_be_done_just_before_may_be_done_in_the_cold() -> None:
    """Sanding from 07:30 on is no glue; the coat after it begins with the warmth at 08:00."""
    varnish = PVA | {"recoat": [{"from_hours": 1, "needs": ["sand"]}]}
    coats = [
        op("one", 30, "coat", product="PVA", **begun("01T08:00")),
        op("two", 30, "coat", product="PVA", over="one"),
    ]
    climate = {"day": 21, "night": 5, "day_from": "08:00"}
    hours = [{"days": ["mon"], "open": "07:00", "close": "10:00"}]
    got = plan(*coats, now="02T06:00", product=varnish, climate=climate, hours=hours)
    assert [got.start(key) for key in ("two.sand", "two")] == ["Mon 07:30", "Mon 08:00"]


def begun(at: str) -> Json:
    moment = datetime.fromisoformat(f"2026-02-{at}:00-05:00")
    return {"started": moment.isoformat(), "finished": (moment + timedelta(minutes=30)).isoformat()}


def test_a_layer_that_would_be_cold_in_one_window_waits_for_the_next() -> None:
    varnish = PVA | {"recoat": [{"from_hours": 2, "to_hours": 7}, {"from_hours": 20}]}
    coats = [
        op("one", 30, "coat", product="PVA", **begun("02T13:30")),
        op("two", 30, "coat", product="PVA", over="one"),
    ]
    got = plan(*coats, now="02T14:00", product=varnish, hours=EVENINGS)
    assert got.operation("two")["start"] == "2026-02-07T09:00:00-05:00"
    assert got.flags("two") == []


def test_where_no_day_stays_warm_it_is_planned_as_if_it_did_and_nothing_follows() -> None:
    """TA02: no end is given, however long one would wait; the way out is warmth or another glue."""
    got = plan(glue(), *LATER, climate={"day": 12, "night": 4}, product=PVA | {"lowest_for_hours": 24})
    assert got.start("glue") == "Mon 16:00"
    assert got.flags("glue") == ["too-cold"]
    assert got.operation("glue")["stages"] == {"clamps off": None}
    assert [got.start(key) for key in ("plane", "sweep")] == [None, None]
    assert [got.flags(key) for key in ("plane", "sweep")] == [["blocked"], ["blocked"]]
    assert got.builds["Desk"]["finish"] is None
    assert got.operation("glue")["flags"][0]["says"] == (
        '"glue" would begin Mon 2 Feb 16:00 and needs 10 °C until Tue 3 Feb 16:30 for PVA to hold, but it will be 4 °C '
        "Mon 2 Feb 22:00, with no warmer start in 14 days. Warm the wood and the room and enter a reading, or take a "
        "product that stands the cold."
    )


@pytest.mark.parametrize(("warm_after", "start"), [(13, "2026-02-15T16:00"), (15, "2026-02-02T16:00")])
def test_warmth_is_waited_for_fourteen_days_and_no_longer(warm_after: int, start: str) -> None:
    """Readings that hold from one to the next, cold until so many days from now; the shop is never shut."""
    since = datetime.fromisoformat("2026-02-02T04:00:00-05:00")
    halves = [since + timedelta(hours=12 * half) for half in range(2 * warm_after + 1)]
    readings = [{"at": at.isoformat(), "temperature": 4} for at in halves]
    always = [{"days": ["mon", "tue", "wed", "thu", "fri", "sat", "sun"], "open": "00:00", "close": "24:00"}]
    got = plan(glue(), climate={"day": 21, "night": 21, "readings": readings}, hours=always)
    assert got.operation("glue")["start"] == f"{start}:00-05:00"
    assert got.flags("glue") == ([] if warm_after < 14 else ["too-cold"])


def test_a_pin_in_the_cold_is_kept_and_said() -> None:
    got = plan(glue(pinned={"at": "2026-02-02T16:30:00-05:00"}), *LATER)
    assert got.start("glue") == "Mon 16:30"
    assert (got.flags("glue"), got.flags("plane")) == (["too-cold"], ["blocked"])
    assert "where it is fixed" in got.operation("glue")["flags"][0]["says"]


def test_the_maker_may_answer_for_the_cold() -> None:
    got = plan(glue(overruled=["too-cold"]), LATER[0])
    assert got.start("glue") == "Mon 16:00"
    assert got.flags("glue") == []
    assert got.operation("glue")["stages"]["clamps off"] == "2026-02-02T17:30:00-05:00"


def test_a_reading_under_the_limit_makes_a_joint_suspect_for_good() -> None:
    """TA02: waterproof PVA at 15:00, and 38 °F from 22:00 to 07:00 in the log. It is not merely paused."""
    product = PVA | {"lowest": 8.3333, "lowest_for_hours": 24}
    log = [read("02T15:00", 15.6), read("02T22:00", 3.3), read("03T07:00", 18)]
    climate = {"day": 18, "night": 18, "readings": log}
    got = plan(glued("02T15:00"), *LATER, now="04T09:00", product=product, climate=climate)
    assert got.flags("glue") == ["suspect-joint"]
    assert got.operation("glue")["stages"] == {"clamps off": None}
    assert got.flags("plane") == ["blocked"]
    assert got.operation("glue")["flags"][0]["says"] == (
        '"glue" was at 3.3 °C Mon 2 Feb 22:00; PVA needs 8.3 °C until Tue 3 Feb 15:00 to hold. The film may not have '
        "formed, and warming it now does not mend it. Test it, then do it again, or say that it holds."
    )
    later = plan(glued("02T15:00"), now="20T09:00", product=product, climate=climate)
    assert later.flags("glue") == ["suspect-joint"]


@pytest.mark.parametrize(
    ("at", "now", "flags"),
    [
        ("02T09:59", "02T12:00", ["suspect-joint"]),  # it holds until the next
        ("01T21:00", "02T12:00", []),
        ("02T10:00", "02T12:00", ["suspect-joint"]),
        ("02T14:29", "02T15:00", ["suspect-joint"]),
        ("02T14:30", "02T15:00", []),
        ("02T12:00", "02T12:00", ["suspect-joint"]),
        ("02T12:01", "02T12:00", ["cold-ahead"]),
    ],
)
def test_a_reading_counts_from_the_start_until_so_long_after_the_end(at: str, now: str, flags: list[str]) -> None:
    climate = {"day": 21, "night": 21, "readings": [read(at, 8)]}
    assert plan(glued(), now=now, climate=climate).flags("glue") == flags


def test_a_reading_of_another_room_says_nothing() -> None:
    climate = {"day": 21, "night": 21, "readings": [read("02T11:00", 8, room="yard")]}
    rooms = [{"name": "shop"}, {"name": "yard"}]
    assert plan(glued(room="shop"), climate=climate, rooms=rooms).flags("glue") == []
    assert plan(glued(room="yard"), climate=climate, rooms=rooms).flags("glue") == ["suspect-joint"]


def test_the_usual_cold_makes_nothing_suspect_but_is_told_while_it_can_be_helped() -> None:
    """TA02: a night minimum is entered; before the night it is warned of, after it nobody knows."""
    product = PVA | {"lowest_for_hours": 24}
    ahead = plan(glued(), *LATER, product=product)
    assert ahead.flags("glue") == ["cold-ahead"]
    assert ahead.operation("glue")["flags"][0]["at"] == "2026-02-02T20:00:00-05:00"
    assert ahead.operation("glue")["stages"]["clamps off"] == "2026-02-02T11:30:00-05:00"
    assert ahead.flags("plane") == []
    assert plan(glued(), now="04T09:00", product=product).flags("glue") == []


def test_running_work_is_not_held_by_the_cold_but_judged_by_it() -> None:
    running = glue(started="2026-02-02T15:50:00-05:00")
    assert plan(running).flags("glue") == ["cold-ahead"]
    cold = {"day": 21, "night": 21, "readings": [read("02T15:55", 8)]}
    assert plan(running, climate=cold).flags("glue") == ["suspect-joint"]


def test_a_maker_who_vouches_for_a_joint_has_its_stages_back() -> None:
    climate = {"day": 21, "night": 21, "readings": [read("02T11:00", 8), read("02T12:00", 21)]}
    got = plan(glued(overruled=["suspect-joint"]), LATER[0], now="02T13:00", climate=climate)
    assert got.flags("glue") == []
    assert got.operation("glue")["stages"]["clamps off"] is not None
    assert got.flags("plane") == []


def test_a_stage_that_was_tested_stands_beside_a_suspect_joint() -> None:
    climate = {"day": 21, "night": 21, "readings": [read("02T12:00", 8)]}
    product = PVA | {"stages": [{"name": "clamps off", "hours": 1}, {"name": "full strength", "hours": 24}]}
    told = {"clamps off": "2026-02-02T11:40:00-05:00"}
    got = plan(glued(reached=told), LATER[0], now="02T13:00", climate=climate, product=product)
    assert got.operation("glue")["stages"] == {"clamps off": told["clamps off"], "full strength": None}
    assert got.flags("plane") == ["blocked"]


def test_the_latest_start_stays_warm_too() -> None:
    got = planned(shop(build(glue(), due="2026-02-03"), products=[PVA], climate=WARM_DAYS))
    assert got.operation("glue")["latest_start"] == "2026-02-03T15:30:00-05:00"


DEGREES = st.sampled_from([5, 9, 12, 21])
OPENINGS = st.sampled_from([("08:00", "17:00"), ("18:00", "21:30"), ("06:00", "07:30"), ("22:00", "24:00")])


@settings(max_examples=30, deadline=None, derandomize=True)
@given(
    day=DEGREES,
    night=DEGREES,
    until=st.sampled_from(["12:00", "20:00", "23:30"]),
    opening=OPENINGS,
    lasts=st.sampled_from([0, 1.5, 8, 24]),
    minutes=st.sampled_from([20, 75]),
    readings=st.lists(st.tuples(st.integers(-600, 4000), DEGREES), max_size=4),
)
def test_it_begins_in_the_first_minute_that_stays_warm(
    day: int, night: int, until: str, opening: tuple[str, str], lasts: float, minutes: int, readings: list[Any]
) -> None:
    """Every minute of the hours is tried, from now to where it was laid, or for 14 days."""
    now = datetime.fromisoformat("2026-03-06T09:00:00-05:00")
    told = [{"at": (now + timedelta(minutes=at)).isoformat(), "temperature": value} for at, value in readings]
    climate = {"day": day, "night": night, "day_to": until, "readings": told}
    hours = [{"days": ["mon", "thu", "fri", "sat"], "open": opening[0], "close": opening[1]}]
    document = shop(
        build(op("glue", minutes, "glue-up", product="PVA")),
        products=[PVA | {"lowest_for_hours": lasts}],
        climate=climate,
        hours=hours,
        now=now.isoformat(),
    )
    got = planned(document)
    facts = Facts(document, got.plan)
    air, start = facts.air(None), minute(got.operation("glue")["start"]) or 0
    days = [now.date() + timedelta(days=day) for day in range(23)]
    open_ = [span for day in days for span in facts.hours.day(None, day)]
    tried = [at for begin, end in open_ for at in range(max(begin, facts.now), end - minutes + 1)]
    first = tried[0]
    warm = (at for at in tried if at < first + 14 * 1440 and not air.is_under(10, at, at + minutes + round(lasts * 60)))
    found = next(warm, None)
    assert (start, got.flags("glue")) == ((first, ["too-cold"]) if found is None else (found, []))
