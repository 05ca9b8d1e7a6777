"""Builds in the plan: when they end, how late, and what is said about it."""

import pytest

from tests.planning.shop import ALWAYS, DAYTIME, Json, build, op, planned, shop

GLUE: Json = {
    "name": "glue",
    "stages": [{"name": "clamps off", "hours": 1}, {"name": "machine", "hours": 168}],
}


def test_a_build_ends_with_its_last_operation_and_the_stages_asked_for() -> None:
    glue = op("glue", 60, "glue-up", product="glue")
    plain = planned(shop(build(glue), products=[GLUE]))
    assert plain.builds["Desk"]["finish"] == "2026-02-02T09:00:00-05:00"
    assert plain.builds["Desk"]["cured"] == "2026-02-09T09:00:00-05:00"
    asked = planned(shop(build(glue, done_at=[{"operation": "glue", "stage": "clamps off"}]), products=[GLUE]))
    assert asked.builds["Desk"]["finish"] == "2026-02-02T10:00:00-05:00"


@pytest.mark.parametrize(
    ("due", "late"),
    [("2026-02-06", 3 * 1440), ("2026-02-07", 1440 + 17 * 60), ("2026-02-09T10:00:00-05:00", 7 * 60)],
)
def test_a_due_date_means_the_last_closing_or_midnight_when_shut(due: str, late: int) -> None:
    got = planned(shop(build(op("fit", 540, not_before="2026-02-09T08:00:00-05:00"), due=due)))
    assert got.builds["Desk"]["minutes_late"] == late
    assert [flag["flag"] for flag in got.builds["Desk"]["flags"]] == ["late"]


def test_late_says_when_and_what_to_do() -> None:
    got = planned(shop(build(op("fit", 120, not_before="2026-02-09T08:00:00-05:00"), due="2026-02-06")))
    assert got.builds["Desk"]["flags"][0]["says"] == (
        "Desk would be done Mon 9 Feb 10:00, 2 days 17 h after its date, Fri 6 Feb 17:00. "
        "Agree on Mon 9 Feb or later, put other builds behind it, or add hours before then."
    )


def test_nothing_starts_before_the_build_may() -> None:
    got = planned(shop(build(op("mill"), not_before="2026-02-04"), hours=ALWAYS))
    assert got.start("mill") == "Wed 00:00"
    assert got.why("mill") == "not-before"


def test_what_must_follow_soon_moves_what_it_follows() -> None:
    link = [{"operation": "joint", "within_minutes": 480}]
    document = shop(
        build(op("joint", split=False), op("glue", 45, "glue-up", link)), now="2026-02-02T15:45:00-05:00", hours=DAYTIME
    )
    got = planned(document)
    assert (got.start("joint"), got.why("joint"), got.start("glue"), got.flags("glue")) == (
        "Tue 08:00",
        "recoat",
        "Tue 09:00",
        [],
    )


def test_what_must_follow_soon_and_cannot_is_said() -> None:
    """The joint is cut already: nothing can be moved any more."""
    link = [{"operation": "joint", "within_minutes": 480}]
    joint = op("joint", started="2026-02-02T14:30:00-05:00", finished="2026-02-02T15:30:00-05:00")
    document = shop(build(joint, op("glue", 90, "glue-up", link)), now="2026-02-02T15:45:00-05:00", hours=DAYTIME)
    got = planned(document)
    assert (got.start("glue"), got.flags("glue")) == ("Tue 08:00", ["window-missed"])
