"""Hours by day, person and thing: local days, whole minutes, sums that add up."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.corrections import effective
from webapp.planning.entry import Entry
from webapp.planning.labour import booked
from webapp.planning.spans import worked_spans
from webapp.planning.stretches import Stretch
from webapp.planning.timesheet import Hours, Line, hours, total

YORK = ZoneInfo("America/New_York")
LONDON = ZoneInfo("Europe/London")
NOON = datetime(2026, 2, 2, 12, tzinfo=UTC)


def stretch(start: datetime, end: datetime, operation: int = 7, **more: object) -> Stretch:
    return Stretch(1, operation, 3, None, start.astimezone(UTC), end.astimezone(UTC), **more)  # type: ignore[arg-type]


def days(*stretches: Stretch, zone: ZoneInfo) -> dict[date, int]:
    return {day: h.minutes for day, h in total(hours(stretches, zone), lambda line: line.day).items()}


@pytest.mark.parametrize(
    ("zone", "start", "end", "minutes"),
    [
        (YORK, "2026-03-07T14:00", "2026-03-08T14:00", {7: 600, 8: 780}),  # 23 h: forward on the 8th
        (YORK, "2026-10-31T14:00", "2026-11-01T14:00", {31: 600, 1: 900}),  # 25 h: back on the 1st
        (LONDON, "2026-03-28T20:30", "2026-03-29T09:30", {28: 210, 29: 510}),  # 12 h
    ],
)
def test_hours_over_a_clock_change_are_real_hours(
    zone: ZoneInfo, start: str, end: str, minutes: dict[int, int]
) -> None:
    """SA08: what the two wall clocks show, subtracted, is wrong on these days (checked with the IANA zone data)."""
    work = stretch(*(datetime.fromisoformat(clock).replace(tzinfo=zone) for clock in (start, end)))
    assert {day.day: n for day, n in days(work, zone=zone).items()} == minutes


def test_a_day_is_the_shops_own_not_that_of_utc() -> None:
    evening = stretch(datetime(2026, 2, 2, 20, tzinfo=YORK), datetime(2026, 2, 2, 22, tzinfo=YORK))
    assert days(evening, zone=YORK) == {date(2026, 2, 2): 120}
    assert days(evening, zone=ZoneInfo("UTC")) == {date(2026, 2, 3): 120}


def test_lines_are_cut_to_the_minute_once_and_none_is_empty() -> None:
    forty = timedelta(minutes=10, seconds=40)
    parts = [stretch(NOON + i * timedelta(hours=1), NOON + i * timedelta(hours=1) + forty) for i in range(2)]
    blink = stretch(NOON, NOON + timedelta(seconds=59), operation=8)
    assert [(line.operation, line.minutes) for line in hours([*parts, blink], LONDON)] == [(7, 21)]


def test_remembered_time_stands_on_the_day_it_was_given_for() -> None:
    late = {"remembered": True}
    end = datetime(2026, 2, 3, 0, 30, tzinfo=UTC)
    by_end = stretch(end - timedelta(hours=2), end, **late)
    given_day = stretch(end - timedelta(hours=2), end, day=date(2026, 1, 30), **late)
    assert days(by_end, zone=LONDON) == {date(2026, 2, 3): 120}
    assert days(given_day, zone=LONDON) == {date(2026, 1, 30): 120}


def test_a_day_typed_with_remembered_time_comes_through_the_journal() -> None:
    data = {"minutes": 90, "remembered": True, "day": "2026-01-30"}
    spans = worked_spans(effective([Entry("a", NOON, NOON, "worked", 1, 7, 3, data)]), NOON)
    assert [(line.day, line.minutes, line.remembered) for line in hours(booked(spans, NOON), LONDON)] == [
        (date(2026, 1, 30), 90, True)
    ]


def test_hours_add_up_by_whatever_is_asked_with_the_remembered_ones_marked() -> None:
    day = date(2026, 2, 2)
    lines = [
        Line(day, 1, 7, 3, None, False, False, 60),
        Line(day, 1, 8, 3, None, True, False, 30),
        Line(day, 2, 8, 3, None, False, True, 15),
        Line(day, 1, None, None, "sharpening", False, False, 5),
    ]
    assert total(lines, lambda line: line.build) == {3: Hours(105, 30, 15), None: Hours(5, 0, 0)}
    assert total(lines, lambda line: (line.maker, line.operation))[(1, 8)] == Hours(30, 30, 0)
    assert total(lines, lambda line: line.shop_time)["sharpening"] == Hours(5, 0, 0)


def test_lines_are_in_order_of_day_person_and_thing() -> None:
    made = [stretch(NOON - timedelta(days=i % 2), NOON + timedelta(hours=1), operation=9 - i) for i in range(4)]
    lines = hours(made, LONDON)
    assert [(line.day, line.operation) for line in lines] == sorted((line.day, line.operation) for line in lines)


@given(st.integers(0, 365 * 24 * 60), st.integers(1, 50 * 60), st.sampled_from([YORK, LONDON]))
def test_the_days_of_a_stretch_are_its_whole_length(start: int, length: int, zone: ZoneInfo) -> None:
    begun = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=start)
    assert sum(days(stretch(begun, begun + timedelta(minutes=length)), zone=zone).values()) == length
