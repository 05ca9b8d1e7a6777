"""The time stick as a drawing: names that leave each other room, dates that stay clear of now and due."""

from itertools import pairwise

from webapp.days.drawing import LETTER, Bar, Drawing
from webapp.days.stick import WIDTH, Stick, lying, standing

DAY = 1440
LONG = "Glue the long rails between the ends " * 5


def a_stick(*, now: int, due: int | None = None) -> Stick:
    bars = tuple(Bar(at, at + 60, "worked", f"{at} {LONG}", "") for at in range(480, 14 * DAY, DAY))
    days = tuple((number * DAY, f"Mon {number} Dec") for number in range(14))
    return Stick(0, 14 * DAY, (("top", bars),), days, now, due)


def test_long_names_do_not_run_over_each_other_or_off_the_drawing() -> None:
    names = [words for words in lying(a_stick(now=DAY)).words if words.look == "p" and words.y > 30]
    ends = [(words.x, words.x + len(words.text) * LETTER) for words in names]
    assert len(names) > 1
    assert all(before[1] <= after[0] for before, after in pairwise(ends))
    assert ends[-1][1] <= WIDTH + 1


def test_dates_keep_clear_of_now_and_due() -> None:
    drawing = standing(a_stick(now=3 * DAY + 500, due=10 * DAY + 200))
    left = sorted(words.y for words in drawing.words if words.x == 0)
    assert {"now", "due"} <= {words.text for words in drawing.words}
    assert all(lower - upper >= 18 for upper, lower in pairwise(left))


def test_now_is_not_drawn_before_the_first_day() -> None:
    for draw in (lying, standing):
        assert "nowline" in _looks(draw(a_stick(now=DAY)))
        assert "nowline" not in _looks(draw(a_stick(now=-300)))


def _looks(drawing: Drawing) -> set[str]:
    return {line.look for line in drawing.lines}
