"""Builds laid backwards from their dates, with times reckoned by hand."""

import json
from typing import Any

import pytest

from tests.planning.shop import EVENINGS, Got, Json, build, local, op, shop
from tests.planning.test_cases import cases, said, same
from webapp.planning.document import answer

FRIDAY = "2026-02-06T12:00:00-05:00"
GLUE: Json = {"name": "glue", "stages": [{"name": "off", "hours": 2}, {"name": "set", "hours": 24}]}
VARNISH: Json = {
    "name": "varnish",
    "stages": [{"name": "dust free", "hours": 2}],
    "dust_free": "dust free",
    "recoat": [{"from_hours": 4, "to_hours": 8, "needs": ["sand"]}],
}
OIL: Json = {"name": "oil", "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 10, "minutes": 15}]}


def latest(document: Json, build: str = "Desk") -> dict[str, list[str]]:
    """The latest spans of each operation of a build, in the wall clock of the shop."""
    status, out, _ = answer(json.dumps(document), 1, latest=True)
    assert status == 0
    found = Got(json.loads(out)).builds[build]["operations"]
    return {
        one["key"]: [f"{local(start)}-{(local(end) or '')[-5:]}" for start, end in one["latest_spans"]] for one in found
    }


def flags(document: Json, key: str) -> list[str]:
    got = Got(json.loads(answer(json.dumps(document), 1, latest=True)[1]))
    return [flag["says"] for flag in got.operation(key)["flags"] if flag["flag"] == "late"]


@pytest.mark.parametrize("case", [case for case in cases("order") if "arguments" in case.values[0]])
def test_the_case_of_the_shop_document_is_laid_as_it_says(case: dict[str, Any]) -> None:
    plan = json.loads(answer(json.dumps(case["document"]), 1, latest=True)[1])
    builds = {
        one["name"]: {**one, "operations": {each["key"]: said(each) for each in one["operations"]}}
        for one in plan["builds"]
    }
    assert same(case["expect"], builds)


def test_nothing_is_laid_backwards_unless_it_is_asked_for() -> None:
    plan = json.loads(answer(json.dumps(shop(build(op("a"), due=FRIDAY))), 1)[1])
    assert "latest_spans" not in plan["builds"][0]["operations"][0]


def test_a_build_without_a_date_has_none() -> None:
    document = shop(build(op("a"), due=FRIDAY), build(op("b"), name="Stool"))
    assert (latest(document), latest(document, "Stool")) == ({"a": ["Fri 11:00-12:00"]}, {"b": []})


def test_one_maker_does_one_thing_at_a_time() -> None:
    document = shop(build(op("a", 120), due=FRIDAY), build(op("b", 180), name="Stool", due=FRIDAY))
    assert latest(document, "Stool") == {"b": ["Fri 09:00-12:00"]}
    assert latest(document) == {"a": ["Thu 16:00-17:00", "Fri 08:00-09:00"]}


def test_work_of_one_piece_lies_in_one_opening() -> None:
    document = shop(build(op("glue", 120, "glue-up"), op("b", 180, after="glue"), due=FRIDAY))
    assert latest(document) == {"glue": ["Thu 15:00-17:00"], "b": ["Fri 09:00-12:00"]}


def test_split_work_is_not_begun_with_less_left_than_the_least() -> None:
    document = shop(build(op("a", 200), op("b", 50, "glue-up", after="a"), due=FRIDAY), least_minutes=30)
    # b from 11:10; a would begin Thu 16:50 with 10 min left, so it begins at 16:30 and ends 20 min sooner
    assert latest(document) == {"a": ["Thu 16:30-17:00", "Fri 08:00-10:50"], "b": ["Fri 11:10-12:00"]}


def test_a_stage_before_hand_over_and_a_lag_are_kept() -> None:
    steps = [op("a", 60), op("glue", 60, "glue-up", [{"operation": "a", "lag_minutes": 30}], product="glue")]
    document = shop(build(*steps, done_at=[{"operation": "glue", "stage": "set"}], due=FRIDAY), products=[GLUE])
    assert latest(document) == {"a": ["Thu 09:30-10:30"], "glue": ["Thu 11:00-12:00"]}


def test_clamps_that_somebody_else_has_later_are_free_by_then() -> None:
    """Two hours in clamps: those of the first come off by Friday 9:30, when the second takes them."""
    hold = {"equipment": [{"name": "clamps", "count": 6, "until": "off"}], "product": "glue"}
    first = build(op("glue", 30, "glue-up", **hold), due=FRIDAY)
    second = build(
        op("glue", 30, "glue-up", **hold), done_at=[{"operation": "glue", "stage": "off"}], name="Stool", due=FRIDAY
    )
    document = shop(first, second, products=[GLUE], equipment=[{"name": "clamps", "count": 8}])
    # the plan begins with the first, so the second is laid first
    assert latest(document, "Stool") == {"glue": ["Fri 09:30-10:00"]}
    assert latest(document) == {"glue": ["Thu 16:30-17:00"]}


def test_clamps_may_stay_on_over_a_night_until_they_are_wanted() -> None:
    """As before, but the second takes them Friday at 8 for a day."""
    hold = {"equipment": [{"name": "clamps", "count": 6, "until": "off"}], "product": "glue"}
    first = build(op("glue", 30, "glue-up", **hold), due=FRIDAY)
    longer = {**hold, "equipment": [{"name": "clamps", "count": 6, "until": "set"}]}
    second = build(op("glue", 30, "glue-up", **longer), name="Stool", due="2026-02-06T08:30:00-05:00")
    document = shop(first, second, products=[GLUE], equipment=[{"name": "clamps", "count": 8}])
    assert latest(document, "Stool") == {"glue": ["Fri 08:00-08:30"]}
    assert latest(document) == {"glue": ["Thu 16:30-17:00"]}


def test_dust_settles_before_a_coat_and_keeps_off_while_it_is_wet() -> None:
    coat = build(op("coat", 30, "coat", product="varnish", room="shop"), due=FRIDAY)
    sand = build(op("sand", 60, "sand", room="shop"), name="Stool", due=FRIDAY)
    document = shop(sand, coat, products=[VARNISH], rooms=[{"name": "shop", "settle_minutes": 60}])
    # the coat is planned after the sanding, so it is laid first; the sanding ends an hour before it
    assert latest(document) == {"coat": ["Fri 11:30-12:00"]}
    assert latest(document, "Stool") == {"sand": ["Fri 09:30-10:30"]}


def test_one_place_to_dry_holds_one_piece_at_a_time() -> None:
    first = build(op("coat", 30, "coat", product="varnish", room="shop"), due=FRIDAY)
    second = build(op("coat", 30, "coat", product="varnish", room="shop"), name="Stool", due=FRIDAY)
    document = shop(first, second, products=[VARNISH], rooms=[{"name": "shop", "drying_places": 1}])
    assert latest(document, "Stool") == {"coat": ["Fri 11:30-12:00"]}
    assert latest(document) == {"coat": ["Fri 09:00-09:30"]}  # two hours until it is dust free


def test_a_layer_goes_on_in_the_window_of_the_one_below_with_what_that_needs() -> None:
    coats = [op("one", 30, "coat", product="varnish"), op("two", 30, "coat", product="varnish", over="one")]
    document = shop(build(*coats, due=FRIDAY), products=[VARNISH])
    # sanding Fri 11:00, so the first ends by 7:00: the night before, but then the window of 8 h shut at 1:00.
    # Both go on one day: Thursday's last, 16:30 to 17:00, sanded from 16:00, the first 4 h before
    assert latest(document) == {"one": ["Thu 11:30-12:00"], "two.sand": ["Thu 16:00-16:30"], "two": ["Thu 16:30-17:00"]}


def test_what_must_follow_soon_moves_sooner_with_what_it_follows() -> None:
    link = [{"operation": "mill", "within_minutes": 60}]
    steps = [op("mill", 120, split=False), op("glue", 30, "glue-up", link), op("fit", 210, after="glue", split=False)]
    document = shop(build(*steps, due="2026-02-06T13:00:00-05:00"))
    # fit from 9:30, glue from 9:00; the milling fits no more before it on Friday and would end Thu 17:00, 16 h before
    assert latest(document) == {
        "mill": ["Thu 14:30-16:30"],
        "glue": ["Thu 16:30-17:00"],
        "fit": ["Fri 09:30-13:00"],
    }


def test_tending_is_over_by_the_date_and_done_by_somebody_free() -> None:
    document = shop(build(op("oil", 30, "coat", product="oil"), due=FRIDAY), products=[OIL])
    assert latest(document) == {"oil": ["Fri 10:55-11:25"], "oil.wipe": ["Fri 11:45-12:00"]}


def test_the_cold_of_a_night_is_kept_away_from() -> None:
    """Lowest 10 until 5 h after the end, from 22:00 it is 5 °C: it ends by 17:00."""
    cold = {"name": "cold", "lowest": 10, "lowest_for_hours": 5, "stages": []}
    document = shop(
        build(op("glue", 60, "glue-up", product="cold"), due="2026-02-06T21:30:00-05:00"),
        products=[cold],
        climate={"day": 20, "night": 5},
        hours=EVENINGS,
        now="2026-02-02T18:00:00-05:00",
    )
    assert latest(document) == {"glue": ["Sat 16:00-17:00"]}  # 31 January: of an evening it would get cold
    assert "would have had to start Sat 31 Jan 16:00, before now." in flags(document, "glue")[0]


def test_pinned_work_stays_and_takes_its_time() -> None:
    pin = {"pinned": {"at": "2026-02-06T10:00:00-05:00"}}
    document = shop(build(op("a", 60), op("b", 60, after="a"), due=FRIDAY), build(op("fix", 90, **pin), name="Stool"))
    # between 11:30 and 12:00 there is no hour left
    assert latest(document) == {"a": ["Fri 08:00-09:00"], "b": ["Fri 09:00-10:00"]}
    assert latest(document, "Stool") == {"fix": []}


def test_what_would_have_to_start_before_now_says_so() -> None:
    document = shop(build(op("a", 120), op("b", 60, after="a"), due="2026-02-02T09:00:00-05:00"))
    assert latest(document) == {"a": ["Fri 15:00-17:00"], "b": ["Mon 08:00-09:00"]}
    assert flags(document, "b") == []
    assert flags(document, "a")[0] == (
        'Laid backwards from the date of Desk, Mon 2 Feb 09:00, "a" would have had to start Fri 30 Jan 15:00, '
        "before now. Agree on a later date, add hours or hands before then, or put other builds behind it."
    )


def test_what_would_have_to_start_before_it_may_says_so() -> None:
    document = shop(build(op("a", 60, not_before="2026-02-06T11:30:00-05:00"), due=FRIDAY))
    assert latest(document) == {"a": ["Fri 11:00-12:00"]}
    assert "would have to start Fri 6 Feb 11:00, but cannot before Fri 6 Feb 11:30." in flags(document, "a")[0]


def test_work_in_hand_is_what_the_plan_says() -> None:
    started = {"started": "2026-02-02T07:00:00-05:00"}
    document = shop(build(op("a", 120, **started), op("b", 60, after="a"), due=FRIDAY))
    assert latest(document) == {"a": ["Mon 08:00-10:00"], "b": ["Fri 11:00-12:00"]}


def test_a_build_with_blocked_work_is_not_laid() -> None:
    gone = op("gone", started="2026-02-02T07:00:00-05:00", abandoned="2026-02-02T07:30:00-05:00")
    assert latest(shop(build(gone, op("next", after="gone"), op("other"), due=FRIDAY))) == {
        "gone": [],
        "next": [],
        "other": [],
    }
