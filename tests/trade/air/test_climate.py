"""The air of a room: what the profile says, what readings say against it, and for how long."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.air.climate import Air, History, Profile
from webapp.trade.air.readings import NEVER, Held, Reading

NEW_YORK = ZoneInfo("America/New_York")
INSTANTS = st.integers(min_value=29_000_000, max_value=29_006_000)
DEGREES = st.sampled_from([4.0, 9.0, 15.0, 21.0])
READINGS = st.lists(st.builds(Reading, at=INSTANTS, temperature=st.none() | DEGREES, counts=st.booleans()), max_size=6)
PROFILES = st.builds(
    Profile,
    day=DEGREES,
    night=DEGREES,
    day_from=st.sampled_from([0, 420, 1320]),
    day_to=st.sampled_from([420, 1320, 1440]),
)


def minutes(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp()) // 60


def temperatures(history: History, *instants: int) -> list[float | None]:
    return [history.at(instant).temperature for instant in instants]


def test_the_newest_reading_holds_until_the_next_and_twelve_hours_at_most() -> None:
    history = History.constant(20.0)
    assert temperatures(history, 0, 10**7) == [20.0, 20.0]
    history = History(Profile(20.0, 20.0), [Reading(600, 8.0), Reading(660, 9.0)])
    assert temperatures(history, 599, 600, 659, 660, 660 + 719, 660 + 720) == [20.0, 8.0, 8.0, 9.0, 9.0, 20.0]


def test_temperature_and_humidity_hold_each_by_itself() -> None:
    history = History(Profile(20.0, 20.0, humidity=50), [Reading(0, 12.0), Reading(60, humidity=70)])
    assert [(air.begin, air.temperature, air.humidity) for air in history.pieces(0, 900)] == [
        (0, 12.0, 50),
        (60, 12.0, 70),
        (720, 20.0, 70),
        (780, 20.0, 50),
    ]


def test_whether_hours_count_is_what_the_newest_reading_says() -> None:
    history = History(Profile(20.0, 20.0), [Reading(0, 20.0, counts=False), Reading(60, humidity=60)])
    assert [history.at(instant).counts for instant in (-1, 0, 59, 60)] == [True, False, False, True]
    assert history.pauses
    assert not History(Profile(20.0, 20.0), [Reading(0, 20.0)]).pauses


def test_a_reading_of_a_room_holds_there_and_one_without_a_room_in_all() -> None:
    readings = [Reading(0, 12.0), Reading(60, 15.0, room="paint room")]
    assert temperatures(History(Profile(20.0, 20.0), readings, room="paint room"), 30, 90) == [12.0, 15.0]
    assert temperatures(History(Profile(20.0, 20.0), readings, room="shop"), 30, 90) == [12.0, 12.0]
    assert temperatures(History(Profile(20.0, 20.0), readings), 30, 90) == [12.0, 12.0]


def test_of_two_readings_of_one_minute_the_later_in_the_list_holds() -> None:
    assert temperatures(History(Profile(20.0, 20.0), [Reading(0, 12.0), Reading(0, 14.0)]), 5) == [14.0]


@pytest.mark.parametrize(
    ("day_from", "day_to", "by_day"),
    [(7, 22, range(7, 22)), (22, 6, [0, 1, 2, 3, 4, 5, 22, 23]), (0, 24, range(24)), (8, 8, []), (0, 12, range(12))],
)
def test_it_is_day_from_one_hour_to_another_over_midnight_too(day_from: int, day_to: int, by_day: list[int]) -> None:
    history = History(Profile(20.0, 10.0, day_from * 60, day_to * 60))
    noon = minutes("2026-02-02T12:00:00Z")
    warm = {instant // 60 % 24 for instant in range(noon, noon + 1440, 60) if history.at(instant).temperature == 20.0}
    assert warm == set(by_day)


def test_a_day_is_as_long_as_its_wall_clock_says_when_the_clocks_change() -> None:
    """From 01:00 to 04:00 are two hours in New York on 8 March 2026, and four on 1 November: IANA zone data."""
    history = History(Profile(20.0, 10.0, 60, 240), zone=NEW_YORK)
    for day, hours in [("2026-03-07", 3), ("2026-03-08", 2), ("2026-11-01", 4)]:
        begin = minutes(f"{day}T00:00:00-0{4 if day > '2026-10' else 5}:00")
        warm = [air.end - air.begin for air in history.pieces(begin, begin + 600) if air.temperature == 20.0]
        assert warm == [hours * 60]


def test_a_look_further_back_than_before_finds_the_same() -> None:
    ahead, back = History(Profile(20.0, 10.0)), History(Profile(20.0, 10.0))
    later, earlier = minutes("2026-06-01T12:00:00Z"), minutes("2024-06-01T12:00:00Z")
    assert ahead.at(later) == back.at(later)
    assert ahead.at(earlier) == Air(earlier - 5 * 60, earlier + 10 * 60, 20.0, None, True)
    assert ahead.at(later) == back.at(later)


def test_where_nothing_changes_any_more_a_stretch_never_ends() -> None:
    history = History(Profile(20.0, 20.0), [Reading(0, 12.0)])
    assert (history.at(800).end, history.at(-5).end) == (NEVER, 0)


def test_cold_is_told_of_the_air_and_of_readings_apart() -> None:
    history = History(Profile(20.0, 8.0), [Reading(600, 9.0)])
    assert [(air.begin, air.end) for air in history.under(10.0, 500, 1440)] == [(600, 1320), (1320, 1440)]
    assert history.read_under(10.0, 500, 1440) == Held(600, 1320, 9.0)
    assert history.read_under(10.0, 0, 600) is None
    assert history.read_under(9.0, 500, 1440) is None
    assert (history.least, History(Profile(20.0, 11.0), [Reading(0, 5.0)]).least) == (8.0, 5.0)


def test_a_limit_in_fahrenheit_is_not_missed_by_a_binary_fraction() -> None:
    assert History.constant((50 - 32) / 1.8 - 1e-9).under(10.0, 0, 60) == ()


def told(profile: Profile, readings: list[Reading], at: int) -> tuple[float | None, bool]:
    """The air at an instant by going through all readings: temperature, and whether the hour counts."""
    wall = datetime.fromtimestamp(at * 60, UTC)
    clock = wall.hour * 60 + wall.minute
    begin, end = profile.day_from, profile.day_to
    by_day = begin <= clock < end if begin <= end else clock >= begin or clock < end
    temperature, counts = profile.day if by_day else profile.night, True
    for reading in sorted((one for one in readings if at - 720 < one.at <= at), key=lambda one: one.at):
        counts = reading.counts
        temperature = temperature if reading.temperature is None else reading.temperature
    return temperature, counts


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, at=INSTANTS, back=st.integers(0, 200_000))
def test_the_air_is_what_the_readings_say_at_any_minute(
    profile: Profile, readings: list[Reading], at: int, back: int
) -> None:
    history = History(profile, readings)
    history.at(at - back)
    air = history.at(at)
    assert (air.temperature, air.counts) == told(profile, readings, at)
    assert air.begin <= at < air.end
