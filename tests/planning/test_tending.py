"""Work inside a wait: done in its time, and what has to move for it."""

from tests.planning.shop import WORKDAYS, Json, build, op, planned, shop

OIL: Json = {"name": "oil", "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 10, "minutes": 15}]}


def test_it_is_done_in_its_time_by_whoever_is_free() -> None:
    got = planned(shop(build(op("oil", 20, "coat", product="oil"), op("mill", 240)), products=[OIL], makers=2))
    assert got.spans("oil.wipe") == ["Mon 08:40-08:55"]
    assert got.operation("oil.wipe")["people"] == ["maker 1"]
    assert got.operation("mill")["people"] == ["maker 2"]


def test_work_moves_to_where_its_tending_can_be_done() -> None:
    got = planned(shop(build(op("oil", 20, "coat", product="oil")), products=[OIL], now="2026-02-02T16:10:00-05:00"))
    assert got.start("oil") == "Tue 08:00"
    assert got.why("oil") == "recoat"


def test_what_follows_waits_for_the_tending_too() -> None:
    got = planned(shop(build(op("oil", 20, "coat", product="oil"), op("next", after="oil")), products=[OIL]))
    assert got.start("next") == "Mon 08:55"


def test_tending_of_work_done_is_planned_while_its_time_is_not_over() -> None:
    done = {"started": "2026-02-02T08:00:00-05:00", "finished": "2026-02-02T08:20:00-05:00"}
    oil = op("oil", 20, "coat", product="oil", **done)
    in_time = planned(shop(build(oil, op("mill")), products=[OIL], now="2026-02-02T08:45:00-05:00"))
    assert in_time.spans("oil.wipe") == ["Mon 08:45-09:00"]
    assert in_time.start("mill") == "Mon 09:00"
    over = planned(shop(build(oil, op("mill")), products=[OIL], now="2026-02-02T08:51:00-05:00"))
    assert [one["key"] for one in over.builds["Desk"]["operations"]] == ["oil", "mill"]


def test_tending_that_cannot_be_done_is_said() -> None:
    late = {"name": "oil", "tend": [{"key": "wipe", "at_minutes": 600, "within_minutes": 10, "minutes": 15}]}
    hours = [{"days": WORKDAYS, "open": "08:00", "close": "12:00"}]
    got = planned(shop(build(op("oil", 20, "coat", product="oil")), products=[late], hours=hours))
    assert got.start("oil") == "Mon 08:00"
    assert got.start("oil.wipe") == "Tue 08:00"
    assert got.flags("oil.wipe") == ["window-missed"]


def test_split_work_moves_by_open_minutes() -> None:
    late = {"name": "oil", "tend": [{"key": "wipe", "at_minutes": 90, "within_minutes": 0, "minutes": 15}]}
    mill = op("oil", 60, "rub out", product="oil")
    got = planned(shop(build(mill), products=[late], now="2026-02-02T15:30:00-05:00"))
    assert got.spans("oil") == ["Mon 16:01-17:00", "Tue 08:00-08:01"]


def test_tending_longer_than_any_opening_runs_past_closing_and_says_so() -> None:
    oil = {"name": "oil", "tend": [{"key": "look", "at_minutes": 20, "within_minutes": 2000, "minutes": 600}]}
    got = planned(shop(build(op("oil", 20, "coat", product="oil")), products=[oil]))
    assert got.spans("oil.look") == ["Tue 08:00-18:00"]
    assert got.flags("oil.look") == ["longer-than-shop-hours"]
    assert got.operation("oil.look")["flags"][0]["says"].startswith(
        '"oil.look" takes 10 h in one piece and runs to Tue'
    )
