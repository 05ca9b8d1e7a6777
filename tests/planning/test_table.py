"""The plan as a table for people."""

import json
from typing import Any

from tests.planning.shop import Json, build, op, shop
from webapp.planning.document import answer

GLUE: Json = {"name": "glue", "stages": [{"name": "clamps off", "hours": 2}, {"name": "machine", "hours": 24}]}


def lines(document: Json, **more: Any) -> list[str]:
    status, out, err = answer(json.dumps(document), 1, as_table=True, **more)
    assert (status, err) == (0, "")
    return out.splitlines()


def test_each_operation_is_a_line_with_when_who_why_and_its_waits() -> None:
    steps = [op("glue", 60, "glue-up", product="glue", name="Glue up"), op("plane", 60, "mill", "glue:machine")]
    assert lines(shop(build(*steps, due="2026-02-06"), products=[GLUE])) == [
        "Times of America/New_York. It is Mon 2 Feb 08:00.",
        "",
        "Desk: done Tue 3 Feb 10:00, due Fri 6 Feb 17:00: in time",
        "",
        "when                   build  operation  who      why                       waits until",
        "Mon 2 Feb 08:00-09:00  Desk   Glue up    maker 1  now                       clamps off Mon 2 Feb 11:00",
        "                                                                            machine Tue 3 Feb 09:00",
        "Tue 3 Feb 09:00-10:00  Desk   plane      maker 1  wait of Glue up: machine",
    ]


def test_the_zone_is_said_once() -> None:
    assert "\n".join(lines(shop(build(op("a"), op("b"))))).count("America/New_York") == 1


def test_work_over_a_night_says_both_days() -> None:
    assert lines(shop(build(op("a", 600))))[-1].startswith("Mon 2 Feb 08:00 - Tue 3 Feb 09:00  Desk")


def test_another_year_is_said() -> None:
    assert lines(shop(build(op("a", not_before="2027-02-03T08:00:00-05:00"))))[-1].startswith(
        "Wed 3 Feb 2027 08:00-09:00"
    )


def test_the_other_build_is_named_where_it_holds_a_date() -> None:
    assert "busy with a (Desk)" in lines(shop(build(op("a")), build(op("b"), name="Stool")))[-1]


def test_done_and_blocked_work_is_named_so() -> None:
    begun = {"started": "2026-02-02T06:00:00-05:00"}
    steps = [
        op("a", **begun, finished="2026-02-02T07:00:00-05:00"),
        op("b", **begun, abandoned="2026-02-02T07:00:00-05:00"),
        op("c", **begun),
        op("d", after="b"),
    ]
    found = [line for line in lines(shop(build(*steps))) if "Desk  " in line]
    assert [line.split()[-1] for line in found] == ["done", "abandoned", "hand", "blocked"]


def test_what_is_wrong_stands_beneath() -> None:
    found = lines(shop(build(op("a", 120), due="2026-02-02T09:00:00-05:00")))
    assert "Desk: done Mon 2 Feb 10:00, due Mon 2 Feb 09:00: 1 h late" in found
    assert found[-1].startswith("late (Mon 2 Feb 09:00): Desk would be done Mon 2 Feb 10:00, 1 h after its date")


def test_long_names_are_cut_and_hostile_ones_tamed() -> None:
    found = lines(shop(build(op("a", name="Mortise \u001b[2J" + "m" * 90), name="木" * 40)))
    assert "\u001b" not in "\n".join(found)
    assert "  木木木木木木木木…  Mortise [2Jmmmmmmmmmmmm…  maker 1  now" in found[-1]


def test_the_latest_spans_are_a_column_where_they_are_asked_for() -> None:
    found = lines(shop(build(op("a"), due="2026-02-06")), latest=True)
    assert found[-2].endswith("at the latest")
    assert found[-1].endswith("Fri 6 Feb 16:00-17:00")
