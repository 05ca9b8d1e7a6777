"""Pinned work: against hours and plans, but not against its order."""

from tests.planning.shop import build, op, planned, shop


def test_pinned_work_has_its_time_and_others_make_way() -> None:
    fixed = op("b", 60, pinned={"at": "2026-02-02T10:00:00-05:00"})
    got = planned(shop(build(op("a", 180, "glue-up"), fixed)))
    assert got.start("b") == "Mon 10:00"
    assert got.why("b") == "pinned"
    assert got.start("a") == "Mon 11:00"


def test_a_pin_wins_over_hours_and_dates_but_not_over_the_order() -> None:
    sunday = {"at": "2026-02-08T10:00:00-05:00"}
    got = planned(shop(build(op("a", 60, pinned=sunday, not_before="2026-02-20T08:00:00-05:00"))))
    assert got.operation("a")["start"] == "2026-02-08T10:00:00-05:00"
    assert got.flags("a") == ["longer-than-shop-hours"]
    got = planned(shop(build(op("a", 240), op("b", 60, after="a", pinned={"at": "2026-02-02T09:00:00-05:00"}))))
    assert got.start("b") == "Mon 12:00"


def test_a_pin_on_a_date_leaves_the_hour_open() -> None:
    got = planned(shop(build(op("a", 60, pinned={"on": "2026-02-04"}), op("b", 60, pinned={"on": "2026-02-04"}))))
    assert [got.start(key) for key in "ab"] == ["Wed 08:00", "Wed 09:00"]


def test_a_pin_that_cannot_be_kept_keeps_nobody_from_work() -> None:
    fixed = op("b", 60, after="late", pinned={"at": "2026-02-02T08:00:00-05:00"})
    got = planned(shop(build(op("a"), op("late", not_before="2026-02-04T08:00:00-05:00"), fixed)))
    assert got.start("a") == "Mon 08:00"
    assert got.start("b") == "Wed 09:00"
