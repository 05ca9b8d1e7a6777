"""A wait as a bar: how much is over, and words that do not run into each other."""

from datetime import timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from tests.conftest import START
from webapp.bench.bars import bar
from webapp.web.notches import LETTER


def test_half_is_half() -> None:
    found = bar(START, START + timedelta(hours=1), [(START + timedelta(hours=2), "16:18")])
    assert found.over == 49
    [notch] = found.notches
    assert (notch.x, notch.anchor) == (98, "end")


def test_nothing_is_over_before_it_began_and_all_of_it_after() -> None:
    end = [(START + timedelta(hours=2), "end")]
    assert bar(START, START, end).over == 0
    assert bar(START, START - timedelta(hours=1), end).over == 0
    assert bar(START, START + timedelta(hours=9), end).over == 98


@given(
    st.lists(
        st.tuples(st.integers(0, 600), st.sampled_from(["15:52", "wipe 15:40", "Wed 08:40 shut"])),
        min_size=1,
        max_size=6,
    )
)
def test_no_words_run_into_each_other(marks: list[tuple[int, str]]) -> None:
    found = bar(START, START, [(START + timedelta(minutes=at), text) for at, text in marks])
    rows: dict[int, list[tuple[float, float]]] = {}
    for notch in found.notches:
        width = len(notch.text) * LETTER
        left = {"start": notch.x, "middle": notch.x - width / 2, "end": notch.x - width}[notch.anchor]
        assert left >= 0
        assert left + width <= 100
        rows.setdefault(notch.y, []).append((left, left + width))
        assert notch.y < found.height
    for spans in rows.values():
        ordered = sorted(spans)
        assert all(one[1] < other[0] for one, other in pairwise(ordered))
