"""The age of a wait: sums over the air, both ways."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trade.air.test_climate import INSTANTS, PROFILES, READINGS, minutes
from webapp.trade.air.climate import History, Profile
from webapp.trade.air.pace import AS_LABELLED, Pace
from webapp.trade.air.readings import Reading
from webapp.trade.waits.clock import LONGEST_WAIT, clock, whole_minutes

PVA = Pace(rated_at=21.0, doubles_per=8.0)
PACES = st.sampled_from(
    [
        PVA,
        AS_LABELLED,
        Pace(21.0, 8.0, faster_when_warm=True),
        Pace(21.0, 8.0, faster_when_warm=True, faster_per=5.0),
        Pace(21.0, 8.0, counts_above=10.0),
        Pace(21.0, None, counts_above=15.0),
    ]
)
LONG = st.floats(min_value=0.01, max_value=20_000)
SPANS = st.integers(0, 9000)


def halves(*cold: tuple[int, int]) -> History:
    """21 °C, and in the spans given 13 °C, at which PVA runs at half its pace."""
    return History(
        Profile(21.0, 21.0), [Reading(at, t) for begin, end in cold for at, t in ((begin, 13.0), (end, 21.0))]
    )


@pytest.mark.parametrize(
    ("cold", "wanted", "end"),
    [
        ([], 60, 60),
        ([(-600, 60)], 60, 90),
        ([(30, 90)], 60, 90),
        ([(30, 91)], 60, 90),
        ([(60, 120)], 60, 60),
        ([(10, 20), (30, 40)], 60, 70),
        ([(0, 11)], 63.6, 70),
    ],
)
def test_each_minute_counts_at_its_own_temperature(cold: list[tuple[int, int]], wanted: float, end: int) -> None:
    """ASTM C1074 equivalent age, the doubling rule as its rate; figures computed."""
    assert clock(halves(*cold), PVA).end(0, wanted) == end


@pytest.mark.parametrize(
    ("pace", "temperature", "rate"),
    [
        (PVA, 13.0, 0.5),
        (PVA, 5.0, 0.25),
        (PVA, 37.0, 1.0),
        (Pace(21.0, 8.0, faster_when_warm=True), 29.0, 2.0),
        (Pace(21.0, 8.0, faster_when_warm=True, faster_per=4.0), 29.0, 4.0),
        (Pace(21.0, 8.0, faster_when_warm=True, faster_per=4.0), 13.0, 0.5),
        (Pace(21.0, None), 2.0, 1.0),
        (Pace(None, 8.0), 2.0, 1.0),
        (Pace(21.0, 8.0, counts_above=10.0), 9.9, 0.0),
        (Pace(21.0, 8.0, counts_above=5.0), 5.0, 0.25),
        (PVA, None, 1.0),
        (Pace(21.0, 0.001), -300.0, 0.0),
        (Pace(21.0, 8.0, faster_when_warm=True, faster_per=0.001), 1000.0, 2.0**60),
    ],
)
def test_a_minute_counts_by_the_rule_of_its_wait(pace: Pace, temperature: float | None, rate: float) -> None:
    assert pace.at(temperature) == rate


def test_a_wait_is_over_before_a_pause_that_begins_when_it_is() -> None:
    """8 h from 10:00, hours counting by day until 18:00: reached at 18:00, not the next morning."""
    history = History(Profile(20.0, 10.0, 6 * 60, 18 * 60))
    ten = minutes("2026-02-02T10:00:00Z")
    assert clock(history, Pace(counts_above=18.0)).end(ten, 8 * 60) == ten + 8 * 60
    assert clock(history, Pace(counts_above=18.0)).end(ten, 8 * 60 + 1) == ten + 20 * 60 + 1


def test_what_needs_no_time_is_reached_at_once_even_where_no_hour_counts() -> None:
    assert clock(History.constant(5.0), Pace(counts_above=10.0)).end(7, 0) == 7


@pytest.mark.parametrize("history", [History.constant(5.0), History(Profile(6.0, 4.0))])
def test_what_never_counts_is_never_reached(history: History) -> None:
    assert clock(history, Pace(counts_above=10.0)).end(0, 1) is None
    assert clock(history, Pace(counts_above=10.0)).latest(0, LONGEST_WAIT, 1) is None


def test_a_year_is_the_end() -> None:
    cold = clock(History(Profile(13.0, 13.0)), PVA)
    assert (cold.end(0, LONGEST_WAIT / 2), cold.end(0, LONGEST_WAIT / 2 + 1)) == (LONGEST_WAIT, None)
    changing = clock(History(Profile(21.0, 13.0, 0, 12 * 60)), PVA)
    assert changing.end(0, LONGEST_WAIT * 0.75) == LONGEST_WAIT
    assert changing.end(0, LONGEST_WAIT * 0.75 + 1) is None


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, first=SPANS, second=SPANS)
def test_a_history_split_in_two_sums_to_the_same(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, first: int, second: int
) -> None:
    whole = clock(History(profile, readings), pace)
    middle, end = begin + first, begin + first + second
    assert whole.age(begin, middle) + whole.age(middle, end) == pytest.approx(whole.age(begin, end), abs=1e-6)


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, span=SPANS)
def test_the_sum_by_stretches_is_the_sum_by_minutes(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, span: int
) -> None:
    history = History(profile, readings)
    span = span // 9
    airs = [history.at(minute) for minute in range(begin, begin + span)]
    summed = sum(pace.at(air.temperature) for air in airs if air.counts)
    assert clock(history, pace).age(begin, begin + span) == pytest.approx(summed, abs=1e-6)


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, wanted=LONG)
def test_an_end_is_the_first_minute_at_which_the_age_is_enough(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, wanted: float
) -> None:
    found = clock(History(profile, readings), pace)
    end = found.end(begin, wanted)
    if end is None:
        assert found.age(begin, begin + LONGEST_WAIT) < wanted
        return
    rates = (1.0, 2.0, 4.0, 16.0)
    second = max(rates) / 60  # the most that a dropped second may count for
    assert found.age(begin, end) > wanted - second - 1e-6
    assert end == begin or found.age(begin, end - 1) < wanted


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, wanted=LONG, warmer=st.floats(0, 30))
def test_more_heat_never_lengthens_a_wait(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, wanted: float, warmer: float
) -> None:
    def heated(value: float | None) -> float | None:
        return None if value is None else value + warmer

    warm_profile = Profile(heated(profile.day), heated(profile.night), profile.day_from, profile.day_to)
    warm_readings = [Reading(one.at, heated(one.temperature), counts=one.counts) for one in readings]
    cold = clock(History(profile, readings), pace).end(begin, wanted)
    warm = clock(History(warm_profile, warm_readings), pace).end(begin, wanted)
    assert cold is None or (warm is not None and warm <= cold)


@settings(max_examples=50, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, wanted=LONG, later=SPANS)
def test_who_begins_later_is_never_ready_sooner(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, wanted: float, later: int
) -> None:
    found = clock(History(profile, readings), pace)
    first, second = found.end(begin, wanted), found.end(begin + later, wanted)
    assert first is None or second is None or first <= second


@settings(max_examples=30, deadline=None, derandomize=True)
@given(profile=PROFILES, readings=READINGS, pace=PACES, begin=INSTANTS, wanted=LONG, spare=SPANS)
def test_the_latest_beginning_is_in_time_and_a_minute_later_is_not(
    profile: Profile, readings: list[Reading], pace: Pace, begin: int, wanted: float, spare: int
) -> None:
    found = clock(History(profile, readings), pace)
    end = found.end(begin, wanted)
    if end is not None:
        by = end + spare
        latest = found.latest(begin, by, wanted)
        assert latest is not None
        assert (found.end(latest, wanted) or by + 1) <= by
        after = found.end(latest + 1, wanted)
        assert latest == by or after is None or after > by


@pytest.mark.parametrize(("minutes_", "whole"), [(63.6, 64), (120.000001, 120), (0, 0), (1 / 60, 1), (0.9 / 60, 0)])
def test_less_than_a_second_over_a_minute_is_dropped(minutes_: float, whole: int) -> None:
    assert whole_minutes(minutes_) == whole
