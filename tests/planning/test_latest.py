"""The latest start of each operation."""

from tests.planning.shop import EVENINGS, Json, build, local, op, planned, shop

GLUE: Json = {"name": "glue", "stages": [{"name": "set", "hours": 24}, {"name": "hard", "hours": 72}]}
OIL: Json = {"name": "oil", "tend": [{"key": "wipe", "at_minutes": 20, "within_minutes": 10, "minutes": 15}]}


def latest(document: Json, *keys: str) -> list[str | None]:
    got = planned(document)
    return [local(got.operation(key)["latest_start"]) for key in keys]


def test_a_chain_may_be_put_off_as_far_as_its_due() -> None:
    document = shop(build(op("a", 120), op("b", 60, after="a"), due="2026-02-03"))
    assert latest(document, "a", "b") == ["Tue 14:00", "Tue 16:00"]


def test_without_a_due_the_planned_finish_is_the_limit() -> None:
    document = shop(build(op("a", 120), op("b", 60, after="a"), op("c", 30)))
    assert latest(document, "a", "b", "c") == ["Mon 08:00", "Mon 10:00", "Mon 11:00"]


def test_a_late_build_is_not_to_become_later() -> None:
    document = shop(build(op("a", 120), due="2026-02-01"))
    assert latest(document, "a") == ["Mon 08:00"]


def test_a_wait_is_kept() -> None:
    glue = op("glue", 60, "glue-up", product="glue")
    document = shop(build(glue, op("plane", 60, after="glue:set"), due="2026-02-06"), products=[GLUE])
    assert latest(document, "glue", "plane") == ["Thu 15:00", "Fri 16:00"]


def test_a_stage_before_hand_over_is_kept() -> None:
    glue = op("glue", 60, "glue-up", product="glue")
    document = shop(build(glue, done_at=[{"operation": "glue", "stage": "hard"}], due="2026-02-06"), products=[GLUE])
    assert latest(document, "glue") == ["Tue 16:00"]


def test_the_maker_does_the_rest_in_the_planned_order() -> None:
    document = shop(build(op("a", 240), due="2026-02-02"), build(op("b", 240), name="Stool", due="2026-02-02"))
    assert latest(document, "a") == ["Mon 09:00"]


def test_split_work_goes_back_over_closings() -> None:
    document = shop(build(op("a", 300), due="2026-02-03"), hours=EVENINGS, now="2026-02-02T18:00:00-05:00")
    assert latest(document, "a") == ["Mon 20:00"]


def test_work_of_one_piece_does_not() -> None:
    document = shop(
        build(op("a", 180, "glue-up"), op("b", 60, after="a"), due="2026-02-04"),
        hours=EVENINGS,
        now="2026-02-02T18:00:00-05:00",
    )
    assert latest(document, "a", "b") == ["Tue 18:30", "Wed 20:30"]


def test_tending_has_to_be_possible_still() -> None:
    document = shop(build(op("oil", 20, "coat", product="oil"), due="2026-02-02"), products=[OIL])
    assert latest(document, "oil") == ["Mon 16:05"]


def test_a_pin_leaves_no_room() -> None:
    document = shop(build(op("a", pinned={"at": "2026-02-03T10:00:00-05:00"}), due="2026-02-06"))
    assert latest(document, "a") == ["Tue 10:00"]


def test_blocked_and_done_work_has_none() -> None:
    started = {"started": "2026-02-02T07:00:00-05:00"}
    gone = op("gone", **started, abandoned="2026-02-02T08:00:00-05:00")
    assert latest(shop(build(gone, op("next", after="gone"))), "gone", "next") == [None, None]


def test_a_wait_that_the_cold_of_a_night_stretches_is_kept() -> None:
    """24 h at 21 °C, the 9 h of the night counting half: computed."""
    climate = {"day": 21, "night": 13}
    cold = {**GLUE, "rated_at": 21, "doubles_per": 8}
    glue = op("glue", 60, "glue-up", product="glue")
    document = shop(build(glue, op("plane", 60, after="glue:set"), due="2026-02-05"), products=[cold], climate=climate)
    # from Wed 11:30 to Thu 16:00 are 28.5 h, of which 9 h count half: 24 h
    assert latest(document, "glue", "plane") == ["Wed 10:30", "Thu 16:00"]


def test_the_layer_below_leaves_time_for_its_window_to_open() -> None:
    varnish = {"name": "varnish", "recoat": [{"from_hours": 3, "to_hours": 8}]}
    coats = [op("one", 60, "coat", product="varnish"), op("two", 60, "coat", product="varnish", over="one")]
    document = shop(build(*coats, due="2026-02-02"), products=[varnish])
    assert latest(document, "one", "two") == ["Mon 12:00", "Mon 16:00"]
