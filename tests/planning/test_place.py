"""Laying out in the given order: hours, people, waits, recoat windows."""

import pytest

from tests.planning.shop import EVENINGS, WORKDAYS, Json, build, op, planned, shop

GLUE: Json = {
    "name": "glue",
    "stages": [{"name": "clamps off", "hours": 1}, {"name": "machine", "hours": 168}],
}
HELPER = [{"name": "A"}, {"name": "B", "hours": [{"days": ["thu"], "open": "13:00", "close": "17:00"}]}]


def test_an_operation_is_placed_as_soon_as_what_it_waits_for_is() -> None:
    got = planned(shop(build(op("c", after="b"), op("b", after="a"), op("a"), op("d"))))
    assert [one["key"] for one in got.builds["Desk"]["operations"]] == ["a", "b", "c", "d"]


def test_later_work_fills_the_gap_an_earlier_one_left() -> None:
    got = planned(shop(build(op("a", 480), op("glue", 90, "glue-up"), op("b", 60))))
    assert got.spans("glue") == ["Tue 08:00-09:30"]
    assert got.spans("b") == ["Mon 16:00-17:00"]


def test_machining_waits_for_its_own_end_not_for_the_clamps() -> None:
    """TA03: clamps off and ready to machine are two ends of one wait; the week is common practice, no source."""
    glue = op(
        "glue", 60, "glue-up", product="glue", started="2026-02-02T09:00:00-05:00", finished="2026-02-02T10:00:00-05:00"
    )
    plane = [op("unclamp", 5, "fit hardware", "glue:clamps off"), op("plane", 60, "mill", "glue:machine")]
    got = planned(shop(build(glue, *plane), products=[GLUE], now="2026-02-02T10:00:00-05:00"))
    assert got.operation("glue")["stages"] == {
        "clamps off": "2026-02-02T11:00:00-05:00",
        "machine": "2026-02-09T10:00:00-05:00",
    }
    assert got.operation("unclamp")["start"] == "2026-02-02T11:00:00-05:00"
    assert got.operation("plane")["start"] == "2026-02-09T10:00:00-05:00"


@pytest.mark.parametrize(("day", "clock", "early"), [(2, "14:00", True), (9, "09:00", True), (9, "10:00", False)])
def test_planing_too_soon_is_flagged(day: int, clock: str, early: bool) -> None:
    """TA03: planing that afternoon or a week later at 9 is too early, at 10 it is not."""
    glue = op(
        "glue", 60, "glue-up", product="glue", started="2026-02-02T09:00:00-05:00", finished="2026-02-02T10:00:00-05:00"
    )
    plane = op("plane", 60, "mill", "glue:machine", started=f"2026-02-{day:02}T{clock}:00-05:00")
    got = planned(shop(build(glue, plane), products=[GLUE], now="2026-02-09T12:00:00-05:00"))
    assert got.flags("plane") == (["too-early"] if early else [])


def test_three_coats_take_a_week_and_two_hours() -> None:
    """TA18: three coats of 20 minutes with a day between, sanded between, three days until delivery."""
    varnish = {
        "name": "varnish",
        "stages": [{"name": "handle", "hours": 72}],
        "recoat": [{"from_hours": 24, "needs": ["sand"]}],
    }
    coats = [
        op(f"coat{n}", 20, "coat", product="varnish", **({"over": f"coat{n - 1}"} if n > 1 else {})) for n in (1, 2, 3)
    ]
    table = build(*coats, op("deliver", 60, "deliver", "coat3:handle"))
    got = planned(shop(table, products=[varnish], now="2026-02-02T09:00:00-05:00"))
    spans = [(key, got.spans(key)) for key in ("coat1", "coat2.sand", "coat2", "coat3.sand", "coat3")]
    assert spans == [
        ("coat1", ["Mon 09:00-09:20"]),
        ("coat2.sand", ["Tue 09:20-09:50"]),
        ("coat2", ["Tue 09:50-10:10"]),
        ("coat3.sand", ["Wed 10:10-10:40"]),
        ("coat3", ["Wed 10:40-11:00"]),
    ]
    assert got.operation("coat3")["stages"]["handle"] == "2026-02-07T11:00:00-05:00"
    assert got.operation("deliver")["start"] == "2026-02-09T08:00:00-05:00"


def test_a_layer_that_misses_its_first_window_waits_for_the_second() -> None:
    """TA05: within 2 h, else after 72 h and sanded; the figures are a label's."""
    varnish = {"name": "varnish", "recoat": [{"from_hours": 0, "to_hours": 2}, {"from_hours": 72, "needs": ["sand"]}]}
    first = {"started": "2026-02-13T08:40:00-05:00", "finished": "2026-02-13T09:00:00-05:00"}
    coats = [
        op("coat1", 20, "coat", product="varnish", **first),
        op("coat2", 20, "coat", product="varnish", over="coat1"),
    ]
    early = planned(shop(build(*coats), products=[varnish], now="2026-02-13T10:30:00-05:00"))
    assert early.start("coat2") == "Fri 10:30"
    late = planned(shop(build(*coats), products=[varnish], now="2026-02-13T14:00:00-05:00"))
    assert late.operation("coat2.sand")["start"] == "2026-02-16T09:00:00-05:00"
    assert late.why("coat2.sand") == "recoat"


def test_the_window_of_a_pair_of_layers_rules() -> None:
    """TA06: the wait belongs to the layer below and the layer above together."""
    film = {"name": "film", "recoat": [{"from_hours": 4}], "recoat_over": {"oils": [{"from_hours": 48}]}}
    oil = {"name": "oil", "family": "oils", "recoat": [{"from_hours": 12}]}
    coats = [op("oil", 30, "coat", product="oil"), op("film", 30, "coat", product="film", over="oil")]
    got = planned(shop(build(*coats), products=[film, oil]))
    assert got.operation("film")["start"] == "2026-02-04T08:30:00-05:00"


def test_a_missed_window_is_rescued_and_said() -> None:
    colour = {"name": "colour", "recoat": [{"from_hours": 1, "to_hours": 2}], "missed_needs": ["wash", "scuff"]}
    first = {"started": "2026-02-02T08:00:00-05:00", "finished": "2026-02-02T08:20:00-05:00"}
    coats = [
        op("colour", 20, "coat", product="colour", **first),
        op("oil", 20, "coat", product="colour", over="colour"),
    ]
    got = planned(shop(build(*coats), products=[colour], now="2026-02-02T14:00:00-05:00"))
    assert [got.start(key) for key in ("oil.wash", "oil.scuff", "oil")] == ["Mon 14:00", "Mon 14:15", "Mon 14:30"]
    assert got.flags("oil") == ["window-missed"]


def test_nobody_sands_twice() -> None:
    varnish = {"name": "varnish", "recoat": [{"from_hours": 24, "needs": ["sand"]}]}
    coats = [
        op("coat1", 20, "coat", product="varnish"),
        op("mine", 45, "sand", [{"operation": "coat1", "lag_minutes": 1440}]),
        op("coat2", 20, "coat", "mine", product="varnish", over="coat1"),
    ]
    got = planned(shop(build(*coats), products=[varnish]))
    assert got.spans("coat2") == ["Tue 09:05-09:25"]


def test_the_set_that_can_start_first_is_taken_then_the_one_that_ends_first() -> None:
    both = [{"name": "A", "hours": [{"days": WORKDAYS, "open": "08:00", "close": "09:00"}]}, {"name": "B"}]
    got = planned(shop(build(op("long", 120), op("short", 30)), makers=both))
    assert got.operation("long")["people"] == ["B"]
    assert got.operation("short")["people"] == ["A"]


def test_the_same_people_do_an_operation_from_start_to_end() -> None:
    got = planned(shop(build(op("glue", 300, "assemble", makers=2), op("sand", 60)), makers=HELPER))
    assert got.operation("glue")["people"] == ["A", "B"]
    assert got.spans("glue") == ["Thu 13:00-17:00", "Thu 13:00-14:00"]
    assert got.spans("sand") == ["Mon 08:00-09:00"]


def test_work_in_parts_keeps_to_the_hours_its_people_share_and_no_others() -> None:
    """Two who keep the shop's hours do not pause for a third who does not."""
    hours = [{"days": ["mon", "tue"], "open": "08:00", "close": "17:00"}]
    makers = [
        {"name": "A"},
        {"name": "B"},
        {"name": "C", "hours": [{"days": ["mon"], "open": "08:00", "close": "10:00"}]},
    ]
    got = planned(shop(build(op("fit", 300, "assemble", makers=2)), hours=hours, makers=makers))
    assert got.spans("fit") == ["Mon 08:00-13:00"]
    assert got.operation("fit")["people"] == ["A", "B"]


def test_more_makers_than_there_are_is_planned_with_as_many_as_can() -> None:
    got = planned(shop(build(op("lift", 30, "assemble", makers=3)), makers=HELPER))
    assert got.operation("lift")["people"] == ["A", "B"]
    assert got.flags("lift") == ["maker-short"]
    assert got.operation("lift")["flags"][0]["says"] == (
        '"lift" asks for 3 makers, but only 2 makers can be there together. '
        "Ask for help Thu 5 Feb 13:00, or plan it for 2."
    )


def test_people_who_do_not_meet_in_14_days_are_not_waited_for() -> None:
    makers = [{"name": "A"}, {"name": "B", "hours": []}]
    got = planned(shop(build(op("lift", 30, "assemble", makers=2)), makers=makers))
    assert got.operation("lift")["people"] == ["A"]
    assert got.flags("lift") == ["maker-short"]


def test_work_longer_than_any_opening_starts_at_the_longest_and_runs_over() -> None:
    got = planned(shop(build(op("glue", 600, "glue-up")), hours=EVENINGS, now="2026-02-02T18:00:00-05:00"))
    assert got.spans("glue") == ["Sat 09:00-19:00"]
    assert got.flags("glue") == ["longer-than-shop-hours"]
    assert got.operation("glue")["flags"][0]["says"] == (
        '"glue" takes 10 h in one piece and runs to Sat 7 Feb 19:00, 2 h past closing. '
        "Stay later that day, or let it be done in parts."
    )


def test_of_equally_long_openings_the_first_is_taken() -> None:
    got = planned(shop(build(op("glue", 600, "glue-up")), now="2026-02-02T12:00:00-05:00"))
    assert got.spans("glue") == ["Tue 08:00-18:00"]


def test_long_work_waits_for_the_longest_opening_to_be_free() -> None:
    pinned = {"pinned": {"at": "2026-02-07T09:00:00-05:00"}}
    got = planned(
        shop(
            build(op("glue", 600, "glue-up"), op("fixed", 60, **pinned)),
            hours=EVENINGS,
            now="2026-02-02T18:00:00-05:00",
        )
    )
    assert got.operation("glue")["start"] == "2026-02-14T09:00:00-05:00"


@pytest.mark.parametrize(("minutes", "start"), [(120, "Tue 08:00"), (15, "Mon 16:45")])
def test_split_work_is_not_begun_with_too_little_left_unless_it_ends(minutes: int, start: str) -> None:
    got = planned(shop(build(op("mill", minutes)), least_minutes=30, now="2026-02-02T16:45:00-05:00"))
    assert got.start("mill") == start


def test_work_that_finds_no_hours_is_blocked_and_says_so() -> None:
    short = [{"days": ["mon"], "open": "08:00", "close": "08:20"}]
    got = planned(shop(build(op("mill", 120)), hours=short, least_minutes=30), checked=False)
    assert got.start("mill") is None
    assert got.operation("mill")["flags"][0]["says"] == (
        '"mill" needs 2 h of work and finds no hours for it in the next ten years. '
        "Give the shop or its makers more hours."
    )
