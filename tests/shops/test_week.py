"""The open week in words and as drawn."""

from dataclasses import dataclass

import pytest

from webapp.shops.week import Bar, in_words, lay_out


@dataclass
class Stretch:
    weekday: int
    opens: int
    closes: int


def week(*found: tuple[int, int, int]) -> list[Stretch]:
    return [Stretch(*each) for each in found]


@pytest.mark.parametrize(
    ("hours", "says"),
    [
        ([(day, 480, 1020) for day in range(5)], "Mon–Fri 08:00–17:00"),
        ([(3, 780, 1020)], "Thu 13:00–17:00"),
        ([(0, 480, 720), (0, 780, 1440), (2, 480, 720)], "Mon 08:00–12:00, 13:00–24:00; Wed 08:00–12:00"),
        ([(5, 540, 720), (6, 540, 720)], "Sat–Sun 09:00–12:00"),
        ([], "never"),
    ],
)
def test_a_week_is_said_in_one_line(hours: list[tuple[int, int, int]], says: str) -> None:
    assert in_words(week(*hours)) == says


def test_a_week_is_drawn_from_its_first_opening_to_its_last_closing_in_whole_hours() -> None:
    found = lay_out(week((0, 450, 720), (0, 780, 1000), (6, 600, 630)))
    assert (found.first, found.last, found.span) == (420, 1020, 600)
    assert found.days[0].bars == (Bar(30, 270), Bar(360, 220))
    assert found.days[6].bars == (Bar(180, 30),)
    assert found.days[1].text == "shut"
    assert len(found.hours) == 10
