"""What the air does to work in a plan: longer waits, damp, dew, open time; with their sentences."""

from typing import Any

import pytest

from tests.planning.shop import EVENINGS, Got, Json, build, op, planned, shop

YELLOW: Json = {
    "name": "yellow PVA",
    "rated_at": 70,
    "doubles_per": 15,
    "open_minutes": 10,
    "stages": [{"name": "clamps off", "hours": 1}, {"name": "full strength", "hours": 24}],
}
LACQUER: Json = {"name": "lacquer", "rated_at": 70, "humidity_max": 65, "dew_gap": 20}


def plan(
    *operations: Json, climate: Json, products: list[Json], now: str = "2026-02-02T10:00:00-05:00", **more: Any
) -> Got:
    document = shop(build(*operations), products=products, climate=climate, now=now, **more)
    return planned({**document, "temperature_unit": "F"})


def steady(temperature: float, humidity: float = 50) -> Json:
    return {"day": temperature, "night": temperature, "humidity": humidity}


def says(got: Got, key: str) -> str:
    return " ".join(flag["says"] for flag in got.operation(key)["flags"])


def test_a_cool_shop_doubles_both_ends_and_what_follows_moves() -> None:
    """TA01: 1 h and 24 h at 70 °F are 2 h and 48 h at 55 °F, a woodworking magazine."""
    glue = [op("glue", 30, "glue-up", product="yellow PVA"), op("plane", 60, "mill", "glue:clamps off")]
    got = plan(*glue, climate=steady(55), products=[YELLOW])
    assert got.operation("glue")["stages"] == {
        "clamps off": "2026-02-02T12:30:00-05:00",
        "full strength": "2026-02-04T10:30:00-05:00",
    }
    assert got.start("plane") == "Mon 12:30"


@pytest.mark.parametrize(("open_minutes", "parts"), [(10, 2), (15, 2), (20, None)])
def test_a_glue_that_skins_too_soon_is_said_with_the_parts_to_split_into(open_minutes: int, parts: int | None) -> None:
    """TA04: 12 joints, 18 min in the dry run; open times of a trade magazine."""
    glue = op("glue", 30, "glue-up", product="yellow PVA", assembly_minutes=18)
    got = plan(glue, climate=steady(70), products=[YELLOW | {"open_minutes": open_minutes}])
    assert got.flags("glue") == ([] if parts is None else ["open-time"])
    if parts is not None:
        assert says(got, "glue") == (
            f'"glue" takes 18 min to put together, but yellow PVA stays open for {open_minutes} min at 70 °F. '
            f"Glue it up in {parts} parts, or take one that stays open longer."
        )


def test_open_time_is_that_of_the_air_at_the_start() -> None:
    """TA04: the morning reading of 85 °F holds until noon; common practice, no source."""
    climate = steady(70) | {"readings": [{"at": "2026-02-02T08:00:00-05:00", "temperature": 85}]}
    glue = op("glue", 30, "glue-up", product="yellow PVA", assembly_minutes=8)
    assert plan(glue, climate=climate, products=[YELLOW]).flags("glue") == ["open-time"]
    late = plan(glue, climate=climate, products=[YELLOW], now="2026-02-02T20:30:00-05:00", hours=EVENINGS)
    assert late.flags("glue") == []


def test_two_stages_of_one_glue_up_wait_for_each_others_clamps() -> None:
    """TA04: split in two, the second cannot start before the first one's clamps may come off."""
    first = op("pair", 9, "glue-up", product="yellow PVA", assembly_minutes=9)
    second = op("rails", 9, "glue-up", "pair:clamps off", product="yellow PVA", assembly_minutes=9)
    got = plan(first, second, climate=steady(55), products=[YELLOW])
    assert (got.start("rails"), got.flags("rails")) == ("Mon 12:09", [])


def test_the_stain_of_a_warm_shop_needs_longer_in_a_cool_one() -> None:
    """TA06: 4 to 6 h are a warm shop's; with a label's doubling 6 h are 12 at 55 °F, and the barrier coat waits."""
    stain = {"name": "stain", "rated_at": 70, "doubles_per": 15, "recoat": [{"from_hours": 6}]}
    coats = [
        op("stain", 30, "stain", product="stain"),
        op("barrier", 30, "coat", product="stain", over="stain"),
    ]
    assert plan(*coats, climate=steady(70), products=[stain], hours=EVENINGS).start("barrier") == "Tue 18:00"
    cool = plan(*coats, climate=steady(55), products=[stain], now="2026-02-02T18:00:00-05:00", hours=EVENINGS)
    assert cool.operation("barrier")["because"]["until"] == "2026-02-03T06:30:00-05:00"


def test_lacquer_over_an_oil_glaze_waits_for_the_pair() -> None:
    """TA06: after a day it wrinkled; the wait of the pair rules, stretched by the lower layer's figures."""
    glaze = {"name": "glaze", "family": "oil", "rated_at": 70, "doubles_per": 15, "recoat": [{"from_hours": 24}]}
    lacquer = {"name": "lacquer", "recoat_over": {"oil": [{"from_hours": 72}]}}
    coats = [op("glaze", 30, "coat", product="glaze"), op("lacquer", 30, "coat", product="lacquer", over="glaze")]
    assert plan(*coats, climate=steady(70), products=[glaze, lacquer]).start("lacquer") == "Thu 10:30"
    cold = plan(*coats, climate=steady(55), products=[glaze, lacquer])
    assert cold.operation("lacquer")["start"] == "2026-02-09T08:00:00-05:00"


def test_dry_to_touch_is_delivered_and_cured_comes_after() -> None:
    """TA09: last coat Sun 3 May 2026, delivered on Sun 10 May, cured on 2 June; a finisher's page."""
    finish = {"name": "oil", "stages": [{"name": "dry", "hours": 48}, {"name": "cured", "hours": 720}]}
    coat = op(
        "coat", 60, "coat", product="oil", started="2026-05-03T11:00:00-04:00", finished="2026-05-03T12:00:00-04:00"
    )
    deliver = op("deliver", 60, "deliver", "coat:dry", pinned={"on": "2026-05-10"})
    hours = [{"days": ["sun"], "open": "08:00", "close": "17:00"}]
    got = plan(coat, deliver, climate=steady(70), products=[finish], now="2026-05-04T08:00:00-04:00", hours=hours)
    assert got.builds["Desk"]["finish"] == "2026-05-10T09:00:00-04:00"
    assert got.builds["Desk"]["cured"] == "2026-06-02T12:00:00-04:00"


@pytest.mark.parametrize(
    ("temperature", "humidity", "flags", "said"),
    [
        (80, 65.5, ["too-humid", "dew-point"], "65.5 %"),
        (80, 60, ["dew-point"], "its dew point 15.1 °F below at 64.9 °F; lacquer wants 20 °F"),
        (85, 45, [], ""),
    ],
)
def test_lacquer_in_damp_air_is_said(temperature: float, humidity: float, flags: list[str], said: str) -> None:
    """TA10: no spraying over 65 %, nor with the dew point 20 °F or less under the air; a trade forum."""
    coat = op("coat", 30, "coat", product="lacquer")
    got = plan(coat, climate=steady(temperature, humidity), products=[LACQUER])
    assert got.flags("coat") == flags
    assert said in says(got, "coat")


def test_damp_that_comes_while_the_work_lasts_is_said_from_then_on() -> None:
    climate = steady(85, 45) | {"readings": [{"at": "2026-02-02T10:20:00-05:00", "humidity": 70}]}
    coat = op("coat", 30, "coat", product="lacquer")
    got = plan(coat, climate=climate, products=[LACQUER | {"dew_gap": None}])
    assert [flag["at"] for flag in got.operation("coat")["flags"]] == ["2026-02-02T10:20:00-05:00"]
    assert got.operation("coat")["flags"][0]["says"] == (
        '"coat" meets a humidity of 70 % Mon 2 Feb 10:20; lacquer stands 65 % at most. '
        "Warm the room or dry the air, or wait for drier air."
    )
    done = {"started": "2026-02-02T09:00:00-05:00", "finished": "2026-02-02T10:00:00-05:00"}
    assert (
        plan(op("coat", 30, "coat", product="lacquer", **done), climate=climate, products=[LACQUER]).flags("coat") == []
    )


@pytest.mark.parametrize(("temperature", "humidity"), [(200, 50), (70, 0), (-60, 50)])
def test_air_whose_dew_point_nobody_knows_is_not_judged(temperature: float, humidity: float) -> None:
    document = shop(
        build(op("coat", 30, "coat", product="lacquer")),
        products=[LACQUER | {"humidity_max": None}],
        climate=steady(temperature, humidity),
    )
    assert planned({**document, "temperature_unit": "F"}, checked=False).flags("coat") == []


def test_a_stage_that_no_hour_counts_for_blocks_what_waits_for_it_and_nothing_else() -> None:
    stain = {"name": "stain", "counts_above": 65, "stages": [{"name": "dry", "hours": 24}]}
    work = [
        op("stain", 30, "stain", product="stain"),
        op("top", 30, "coat", "stain:dry"),
        op("sweep", 10, "other", "stain"),
    ]
    got = plan(*work, climate=steady(60), products=[stain])
    assert got.operation("stain")["stages"] == {"dry": None}
    assert (got.flags("top"), got.flags("sweep")) == (["blocked"], [])
    assert says(got, "top") == (
        '"top" waits for "stain" to dry or set, which in this air is not reached within 365 days. '
        'Make it warmer around "stain", or say that it is tested.'
    )


def test_a_window_that_no_hour_opens_blocks_the_next_layer() -> None:
    stain = {"name": "stain", "counts_above": 65, "recoat": [{"from_hours": 24}]}
    coats = [op("one", 30, "coat", product="stain"), op("two", 30, "coat", product="stain", over="one")]
    assert plan(*coats, climate=steady(60), products=[stain]).flags("two") == ["blocked"]
