"""How times and spans are said."""

from datetime import UTC, date, datetime

import pytest
from flask import Flask, g

from tests.conftest import Clock
from webapp.web import filters
from webapp.web.guard import Visitor


@pytest.fixture(autouse=True)
def _page(app: Flask) -> object:
    """A page of somebody without a shop, whose zone is UTC; it is Tue 3 Feb 2026, 19:18."""
    with app.test_request_context():
        g.visitor = Visitor(1, "Ada", 1)
        yield


pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@pytest.mark.parametrize(
    ("on", "said"),
    [
        (date(2026, 2, 3), "Tue 3"),
        (date(2026, 2, 9), "Mon 9"),
        (date(2026, 2, 10), "Tue 10 February"),
        (date(2026, 1, 30), "Fri 30 January"),
        (date(2027, 2, 8), "Mon 8 Feb 2027"),
    ],
)
def test_a_day_is_said_with_as_much_as_it_needs(on: date, said: str) -> None:
    assert filters.day(on) == said


def test_a_long_day_of_another_year_has_its_year() -> None:
    assert filters.long_day(date(2026, 2, 8)) == "Sunday 8 February"
    assert filters.long_day(date(2027, 2, 8)) == "Monday 8 February 2027"


def test_a_time_has_its_day_when_not_today() -> None:
    assert filters.when(datetime(2026, 2, 3, 23, 5, tzinfo=UTC)) == "23:05"
    assert filters.when(datetime(2026, 2, 4, 7, 40, tzinfo=UTC)) == "Wed 4, 07:40"


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (59, "59 min"), (60, "1 h"), (95, "1 h 35 min"), (10080, "7 days")]
)
def test_a_span_is_said_in_its_units(minutes: int, said: str) -> None:
    assert filters.span(minutes) == said


def test_what_is_over_is_said_to_be(clock: Clock) -> None:
    assert filters.until(clock.moment.replace(minute=58)) == "in 40 min"
    assert filters.until(clock.moment.replace(hour=18)) == "1 h ago"
