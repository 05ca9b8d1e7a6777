"""Hours as makers type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wtforms import Form

from webapp.products.fields import HoursField


class Hours(Form):
    hours = HoursField()


def read(text: str) -> float:
    return Hours().hours.read(text)


@pytest.mark.parametrize(
    ("typed", "hours"),
    [("24", 24), ("1.5", 1.5), ("1,5 h", 1.5), ("45 min", 0.75), ("20min", 1 / 3), ("7 days", 168), ("2 weeks", 336)],
)
def test_ways_of_typing_hours(typed: str, hours: float) -> None:
    assert read(typed) == hours


@pytest.mark.parametrize("typed", ["", "h", "soon", "1e9", "inf", "nan", "-1", "1:30", "200000", "5 fortnights"])
def test_what_is_no_hours_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match=r"Type|That|number|large|minus|1e9"):
        read(typed)


@given(st.integers(0, 100_000 * 60))
def test_whole_minutes_come_back_as_they_were(minutes: int) -> None:
    hours = read(f"{minutes} min")
    assert read(Hours().hours.show(hours)) == hours


@pytest.mark.parametrize(
    ("hours", "shown"),
    [(12, "12 h"), (24, "24 h"), (1.5, "1.5 h"), (0.75, "0.75 h"), (168, "7 days"), (1 / 3, "20 min")],
)
def test_hours_are_shown_with_their_unit(hours: float, shown: str) -> None:
    assert Hours().hours.show(hours) == shown
