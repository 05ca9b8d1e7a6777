"""Why an operation starts when it does: one cause for each of those that exist."""

import pytest

from tests.planning.shop import EVENINGS, Json, build, op, planned, shop

GLUE: Json = {"name": "glue", "stages": [{"name": "set", "hours": 4}]}
OIL: Json = {"name": "oil", "recoat": [{"from_hours": 3, "to_hours": 6}]}
WIPED: Json = {"name": "wiped", "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 5, "minutes": 10}]}


def because(document: Json, key: str, name: str = "Desk") -> Json:
    found: Json = planned(document).operation(key, name)["because"]
    return found


def test_an_earlier_operation_had_to_end() -> None:
    assert because(shop(build(op("a"), op("b", after="a")), makers=2), "b") == {
        "why": "order",
        "build": "Desk",
        "operation": "a",
        "until": "2026-02-02T09:00:00-05:00",
    }


def test_a_stage_had_to_be_reached() -> None:
    document = shop(build(op("a", 60, "glue-up", product="glue"), op("b", after="a:set")), products=[GLUE])
    assert because(document, "b") == {
        "why": "stage",
        "build": "Desk",
        "operation": "a",
        "stage": "set",
        "until": "2026-02-02T13:00:00-05:00",
    }


def test_a_recoat_window_had_to_begin() -> None:
    document = shop(build(op("a", 60, "coat", product="oil"), op("b", 30, "coat", over="a")), products=[OIL])
    assert because(document, "b")["why"] == "recoat"
    assert because(document, "b")["until"] == "2026-02-02T12:00:00-05:00"


def test_tending_could_not_have_been_done() -> None:
    document = shop(build(op("a", 15, "coat", product="wiped")), products=[WIPED], now="2026-02-02T16:20:00-05:00")
    assert because(document, "a") == {
        "why": "recoat",
        "build": "Desk",
        "operation": "a.wipe",
        "until": "2026-02-03T08:00:00-05:00",
    }


def test_tending_waits_for_the_work_it_belongs_to() -> None:
    document = shop(build(op("a", 15, "coat", product="wiped")), products=[WIPED])
    assert because(document, "a.wipe") == {
        "why": "order",
        "build": "Desk",
        "operation": "a",
        "until": "2026-02-02T08:35:00-05:00",
    }


def test_the_maker_was_at_other_work() -> None:
    document = shop(build(op("a")), build(op("b"), name="Stool"))
    assert because(document, "b", "Stool") == {
        "why": "maker",
        "build": "Desk",
        "operation": "a",
        "until": "2026-02-02T09:00:00-05:00",
    }


def test_work_later_that_day_can_be_in_the_way_too() -> None:
    pinned = op("fixed", pinned={"at": "2026-02-02T10:00:00-05:00"})
    document = shop(build(pinned, op("long", 180, "assemble")))
    assert because(document, "long")["operation"] == "fixed"


def test_the_maker_was_not_in() -> None:
    makers = [{"name": "A", "hours": [{"days": ["tue"], "open": "10:00", "close": "12:00"}]}]
    assert because(shop(build(op("a")), makers=makers), "a") == {"why": "maker", "until": "2026-02-03T10:00:00-05:00"}


def test_of_two_makers_the_one_who_comes_last_held_it() -> None:
    makers = [{"name": "A"}, {"name": "B", "hours": [{"days": ["thu"], "open": "13:00", "close": "17:00"}]}]
    document = shop(build(op("busy", 120), op("lift", 30, "assemble", makers=2)), makers=makers)
    assert because(document, "lift") == {"why": "maker", "until": "2026-02-05T13:00:00-05:00"}


def test_a_date_or_a_pin_held_it() -> None:
    dated = shop(build(op("a", not_before="2026-02-03T10:00:00-05:00")))
    assert because(dated, "a") == {"why": "not-before", "until": "2026-02-03T10:00:00-05:00"}
    pinned = shop(build(op("a", pinned={"at": "2026-02-03T10:00:00-05:00"})))
    assert because(pinned, "a") == {"why": "pinned", "until": "2026-02-03T10:00:00-05:00"}


def test_it_would_not_have_fitted_before_closing() -> None:
    document = shop(build(op("a", 60, "glue-up")), hours=EVENINGS, now="2026-02-02T20:45:00-05:00")
    assert because(document, "a") == {"why": "will-not-fit"}


def test_that_it_would_not_fit_counts_only_alone() -> None:
    """The maker is busy until closing, and the glue-up would not have fitted then: the maker held it."""
    document = shop(build(op("mill", 540), op("glue", 60, "glue-up")))
    assert because(document, "glue")["why"] == "maker"


def test_the_shop_was_shut_until_then() -> None:
    document = shop(build(op("a")), now="2026-02-07T12:00:00-05:00")
    assert because(document, "a") == {"why": "shop-shut", "until": "2026-02-09T08:00:00-05:00"}


def test_it_starts_now() -> None:
    assert because(shop(build(op("a"))), "a") == {"why": "now", "until": "2026-02-02T08:00:00-05:00"}


@pytest.mark.parametrize(
    ("stage_hours", "why"), [(1, "maker"), (5, "stage"), (4, "stage")], ids=["maker last", "stage last", "both at once"]
)
def test_of_several_the_one_that_clears_last_counts_and_on_a_tie_the_first_of_the_list(
    stage_hours: int, why: str
) -> None:
    glue = {"name": "glue", "stages": [{"name": "set", "hours": stage_hours}]}
    document = shop(
        build(op("a", 60, "glue-up", product="glue"), op("b", 240), op("c", after="a:set")), products=[glue]
    )
    assert because(document, "c")["why"] == why


def test_a_layer_follows_its_sanding() -> None:
    oil = {"name": "oil", "recoat": [{"from_hours": 3, "needs": ["sand", "wash"]}]}
    document = shop(build(op("a", 60, "coat", product="oil"), op("b", 30, "coat", over="a")), products=[oil])
    assert because(document, "b.sand")["why"] == "recoat"
    assert because(document, "b.wash") == {
        "why": "order",
        "build": "Desk",
        "operation": "b.sand",
        "until": "2026-02-02T12:30:00-05:00",
    }
    assert because(document, "b")["operation"] == "b.wash"


def test_done_and_blocked_work_has_no_reason() -> None:
    started = {"started": "2026-02-02T07:00:00-05:00"}
    done = op("done", **started, finished="2026-02-02T08:00:00-05:00")
    gone = op("gone", **started, abandoned="2026-02-02T08:00:00-05:00")
    got = planned(shop(build(done, gone, op("next", after="gone"), op("running", **started))))
    assert [got.operation(key)["because"] for key in ("done", "gone", "next", "running")] == [None] * 4
