"""Opening hours as intervals: several a day, closed and extra days, midnight, and the changes of the clock."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from webapp.planning.hours import Hours
from webapp.planning.instants import DAY, cut, local, moment, up
from webapp.planning.network import EVERY_DAY, Closed, Extra, Maker, Opening, Shop
from webapp.planning.openings import Openings

WORKDAYS = (0, 1, 2, 3, 4)
DAYTIME = Opening(WORKDAYS, 8 * 60, 17 * 60)
NEW_YORK = "America/New_York"


def at(text: str) -> int:
    return cut(datetime.fromisoformat(text))


def read(hours: Hours, start: str, end: str, maker: int | None = None) -> list[str]:
    spans = hours.openings(maker, at(start), at(end))
    return [f"{moment(a, hours.zone):%a %H:%M%z}-{moment(b, hours.zone):%a %H:%M%z}" for a, b in spans]


def test_several_openings_a_day_stay_apart_or_join_where_they_touch() -> None:
    lunch = Hours(Shop("UTC", (Opening((0,), 480, 720), Opening((0,), 780, 1020))))
    assert read(lunch, "2026-02-02T00:00Z", "2026-02-03T00:00Z") == [
        "Mon 08:00+0000-Mon 12:00+0000",
        "Mon 13:00+0000-Mon 17:00+0000",
    ]
    touching = Hours(Shop("UTC", (Opening((0,), 480, 720), Opening((0,), 720, 1020))))
    assert read(touching, "2026-02-02T00:00Z", "2026-02-03T00:00Z") == ["Mon 08:00+0000-Mon 17:00+0000"]


def test_an_evening_over_midnight_is_one_opening() -> None:
    late = Hours(Shop("UTC", (Opening(EVERY_DAY, 1200, 1440), Opening(EVERY_DAY, 0, 120))))
    assert read(late, "2026-02-02T12:00Z", "2026-02-03T12:00Z") == ["Mon 20:00+0000-Tue 02:00+0000"]
    assert late.last_closing(date(2026, 2, 2)) == at("2026-02-03T00:00Z")


def test_a_shop_that_never_shuts_has_no_closing_within_sight() -> None:
    always = Hours(Shop(NEW_YORK, (Opening(EVERY_DAY, 0, 1440),)))
    start = at("2026-03-07T12:00-05:00")
    assert always.openings(None, start, start + 10 * DAY) == ((start, start + 10 * DAY),)
    assert (always.closing_after(start) or 0) > start + 3000 * DAY


def test_a_shop_that_never_shuts_is_laid_no_further_than_somebody_looks() -> None:
    asked: list[date] = []

    def always(day: date) -> list[tuple[int, int]]:
        asked.append(day)
        return [(local(day, 0, UTC), local(day, DAY, UTC))]

    assert list(Openings(always, UTC).between(5, 9 * DAY)) == [(5, 9 * DAY)]
    assert len(asked) < 14


def test_closed_days_are_for_all_and_extra_hours_hold_on_them() -> None:
    shop = Shop(
        "UTC",
        (DAYTIME,),
        closed=(Closed(date(2026, 2, 2), date(2026, 2, 3)),),
        extra=(Extra(date(2026, 2, 3), 600, 660), Extra(date(2026, 2, 7), 540, 780)),
        makers=(Maker("A"), Maker("B", (Opening((1, 5), 780, 1020),))),
    )
    hours = Hours(shop)
    assert read(hours, "2026-02-02T00:00Z", "2026-02-05T00:00Z") == [
        "Tue 10:00+0000-Tue 11:00+0000",
        "Wed 08:00+0000-Wed 17:00+0000",
    ]
    assert read(hours, "2026-02-02T00:00Z", "2026-02-05T00:00Z", maker=1) == ["Tue 10:00+0000-Tue 11:00+0000"]
    assert read(hours, "2026-02-07T00:00Z", "2026-02-08T00:00Z", maker=1) == ["Sat 09:00+0000-Sat 17:00+0000"]


def test_own_hours_replace_the_shops() -> None:
    hours = Hours(Shop("UTC", (DAYTIME,), makers=(Maker("A"), Maker("B", (Opening((3,), 780, 1020),)))))
    assert hours.next_open(at("2026-02-02T08:00Z"), maker=0) == at("2026-02-02T08:00Z")
    assert hours.next_open(at("2026-02-02T08:00Z"), maker=1) == at("2026-02-05T13:00Z")
    assert hours.closing_after(at("2026-02-02T08:00Z"), maker=1) == at("2026-02-05T17:00Z")


def test_an_interval_ends_before_its_closing_minute() -> None:
    hours = Hours(Shop("UTC", (DAYTIME,)))
    assert hours.next_open(at("2026-02-02T16:59Z")) == at("2026-02-02T16:59Z")
    assert hours.next_open(at("2026-02-02T17:00Z")) == at("2026-02-03T08:00Z")
    assert hours.closing_after(at("2026-02-02T17:00Z")) == at("2026-02-03T17:00Z")


@pytest.mark.parametrize(
    ("opening", "closing", "start", "minutes"),
    [
        (0, 6 * 60, "2026-03-08T00:00-05:00", 5 * 60),  # the night the clocks go forward
        (0, 6 * 60, "2026-11-01T00:00-04:00", 7 * 60),  # and back
        (2 * 60 + 10, 6 * 60, "2026-03-08T03:10-04:00", 2 * 60 + 50),  # opens in the hour that is not
        (2 * 60 + 10, 2 * 60 + 40, "2026-03-08T03:10-04:00", 30),  # all of it in that hour
        (60, 90, "2026-11-01T01:00-04:00", 30),  # in the hour that is twice: the first
        (90, 120, "2026-11-01T01:30-04:00", 90),  # from the first half past one to two o'clock
    ],
)
def test_hours_are_local_and_the_clock_changes_inside_them(
    opening: int, closing: int, start: str, minutes: int
) -> None:
    """The instants by the IANA zone data: New York changes on 8 March and 1 November 2026 at 2."""
    hours = Hours(Shop(NEW_YORK, (Opening((6,), opening, closing),)))
    first = hours.next_open(at(start) - 300) or 0
    assert (first, (hours.closing_after(first) or 0) - first) == (at(start), minutes)


def test_openings_that_run_into_each_other_through_the_missing_hour_are_one() -> None:
    hours = Hours(Shop(NEW_YORK, (Opening((6,), 90, 150), Opening((6,), 180, 240))))
    assert read(hours, "2026-03-08T00:00-05:00", "2026-03-08T12:00-04:00") == ["Sun 01:30-0500-Sun 04:00-0400"]


def test_midnight_that_is_missing_or_double_is_still_where_days_touch() -> None:
    """Havana changes its clock at midnight (IANA zone data)."""
    for text in ("2026-03-07", "2026-10-31"):
        day = datetime.fromisoformat(text).date()
        hours = Hours(Shop("America/Havana", (Opening(EVERY_DAY, 0, 1440),)))
        start = local(day, 720, ZoneInfo("America/Havana"))
        assert hours.openings(None, start, start + 2 * DAY) == ((start, start + 2 * DAY),)


def test_due_on_a_shut_day_is_its_end() -> None:
    hours = Hours(Shop(NEW_YORK, (DAYTIME,)))
    assert hours.last_closing(date(2026, 3, 8)) is None
    assert hours.due(date(2026, 3, 8)) == at("2026-03-09T00:00-04:00")
    assert hours.due(date(2026, 3, 9)) == at("2026-03-09T17:00-04:00")


def test_looking_back_after_looking_far_ahead_gives_the_same() -> None:
    hours = Hours(Shop(NEW_YORK, (DAYTIME,)))
    far = hours.next_open(at("2027-06-01T00:00-04:00"))
    near = hours.openings(None, at("2026-02-02T00:00-05:00"), at("2026-02-04T00:00-05:00"))
    assert far == at("2027-06-01T08:00-04:00")
    assert near == Hours(Shop(NEW_YORK, (DAYTIME,))).openings(
        None, at("2026-02-02T00:00-05:00"), at("2026-02-04T00:00-05:00")
    )
    assert len(near) == 2


def test_a_shop_whose_hours_are_over_never_opens_again() -> None:
    hours = Hours(Shop("UTC", (), extra=(Extra(date(2026, 2, 2), 480, 1020),)))
    assert hours.next_open(at("2026-02-02T16:00Z")) == at("2026-02-02T16:00Z")
    assert hours.next_open(at("2026-02-02T17:00Z")) is None
    assert hours.closing_after(at("2026-02-02T17:00Z")) is None


def test_seconds_are_cut_or_rounded_up() -> None:
    late = datetime(2026, 2, 2, 8, 0, 1, tzinfo=UTC)
    assert up(late) - cut(late) == 1
    assert up(late.replace(second=0)) == cut(late)
    before_1970 = datetime(1969, 12, 31, 23, 59, 30, tzinfo=UTC)
    assert (cut(before_1970), up(before_1970)) == (-1, 0)


def test_the_runs_and_the_minutes_of_openings_agree() -> None:
    openings = Hours(Shop(NEW_YORK, (Opening(WORKDAYS, 480, 720), Opening(WORKDAYS, 780, 1020)))).of()
    start = at("2026-03-06T11:30-05:00")
    run = openings.run(start, 600) or ()
    assert [end - begin for begin, end in run] == [30, 240, 240, 90]
    assert openings.minutes(start, run[-1][1]) == 600
    assert openings.run_back(run[-1][1], 600) == run
    assert openings.last_before(run[1][0]) == run[0][1] - 1
