"""What stands after corrections, whatever the order in which the lines arrived."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.corrections import correction, effective, withdrawal
from webapp.planning.entry import Entry

NINE = datetime(2026, 2, 2, 9, tzinfo=UTC)


def later(minutes: float) -> datetime:
    return NINE + timedelta(minutes=minutes)


def line(entry_id: str, kind: str = "done", at: float = 0, arrived: float | None = None, **more: object) -> Entry:
    came = later(at if arrived is None else arrived)
    return Entry(entry_id, later(at), came, kind, maker=1, operation=7, **more)  # type: ignore[arg-type]


def ids(entries: Sequence[Entry]) -> list[str]:
    """The ids that stand, the same from every order in which the entries can be given."""
    told = {tuple(e.id for e in effective(order)) for order in permutations(entries)}
    assert len(told) == 1, told
    return list(told.pop())


FIRST = line("first", at=0)
MENDED = correction(FIRST, "mended", arrived=later(10), at=later(-5))
MENDED_AGAIN = correction(MENDED, "mended again", arrived=later(20), at=later(-8))


def test_the_same_line_sent_twice_is_one_line() -> None:
    """SA15: the answer was lost, the page sent it again; what arrived first is what was written."""
    again = replace(FIRST, arrived=later(3), data={"note": "sent again"})
    assert effective([again, FIRST, again]) == (FIRST,)


def test_a_line_sent_late_lands_in_its_place() -> None:
    begun, over = line("begun", "started", at=0, arrived=90), line("over", "done", at=60)
    assert ids([over, begun]) == ["begun", "over"]


def test_lines_of_one_instant_keep_the_order_in_which_they_arrived() -> None:
    assert ids([line("b", at=0, arrived=1), line("a", at=0, arrived=2), line("c", at=0, arrived=1)]) == ["b", "c", "a"]


def test_a_correction_replaces() -> None:
    assert ids([FIRST, MENDED]) == ["mended"]


def test_a_correction_is_replaced_by_its_own_correction() -> None:
    assert ids([FIRST, MENDED, MENDED_AGAIN]) == ["mended again"]


def test_of_two_corrections_the_one_that_arrived_last_wins() -> None:
    assert ids([FIRST, MENDED, correction(FIRST, "other", arrived=later(12))]) == ["other"]


def test_a_correction_mended_since_is_newer_than_one_in_between() -> None:
    assert ids([FIRST, MENDED, correction(FIRST, "other", arrived=later(12)), MENDED_AGAIN]) == ["mended again"]


def test_undo_voids_a_line() -> None:
    assert ids([FIRST, withdrawal(FIRST, "undo", arrived=later(1))]) == []


def test_undoing_the_undo_brings_the_line_back() -> None:
    undo = withdrawal(FIRST, "undo", arrived=later(1))
    assert ids([FIRST, undo, withdrawal(undo, "redo", arrived=later(2))]) == ["first"]


def test_withdrawing_a_correction_brings_back_what_stood_before() -> None:
    assert ids([FIRST, MENDED, withdrawal(MENDED, "undo", arrived=later(30))]) == ["first"]
    assert ids([FIRST, MENDED, MENDED_AGAIN, withdrawal(MENDED_AGAIN, "undo", arrived=later(30))]) == ["mended"]
    other = correction(FIRST, "other", arrived=later(12))
    assert ids([FIRST, MENDED, other, withdrawal(other, "undo", arrived=later(30))]) == ["mended"]


def test_a_withdrawn_line_stays_void_when_only_an_older_correction_is_there() -> None:
    assert ids([FIRST, MENDED, withdrawal(FIRST, "undo", arrived=later(30))]) == []


def test_a_correction_that_arrives_before_its_line_stands_until_then() -> None:
    assert ids([MENDED]) == ["mended"]
    assert ids([withdrawal(FIRST, "undo", arrived=later(1))]) == []


def test_a_corrected_line_keeps_its_turn() -> None:
    """The start is moved to the very minute of the pause, and was there first: the clock does not run on."""
    begun, stopped = line("begun", "started", at=0), line("stopped", "paused", at=60)
    moved = correction(begun, "moved", arrived=later(90), at=later(60))
    assert ids([begun, stopped, moved]) == ["moved", "stopped"]


def test_lines_that_correct_each_other_in_a_circle_do_no_harm() -> None:
    one, two = line("one", corrects="two", arrived=1), line("two", corrects="one", arrived=2)
    assert ids([one, two]) == ["one"]


def test_a_thousand_corrections_of_corrections_are_followed() -> None:
    chain = [FIRST]
    for i in range(1000):
        chain.append(correction(chain[-1], f"{i:04}", arrived=later(i)))
    assert [e.id for e in effective(chain)] == ["0999"]


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    """Of few instants and few ids, so that copies, corrections of corrections and circles are common."""
    entry_id, other = draw(st.permutations("abcdef"))[:2]
    corrects = draw(st.sampled_from([None, other, other]))
    kind = draw(st.sampled_from(["noted", "withdrawn"])) if corrects else "noted"
    at, arrived = (later(draw(st.integers(0, 3))) for _ in range(2))
    return Entry(entry_id, at, arrived, kind, data={"says": draw(st.integers(0, 1))}, corrects=corrects)


journals = st.lists(entries(), max_size=10)


@given(journals, st.data())
def test_the_order_of_arrival_and_copies_make_no_difference(journal: list[Entry], data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations([*journal, *journal[:3]]))
    assert effective(shuffled) == effective(journal)


@given(journals)
def test_what_stands_was_written_and_stands_once(journal: list[Entry]) -> None:
    standing = effective(journal)
    assert len({entry.id for entry in standing}) == len(standing)
    assert all(entry in journal and entry.kind != "withdrawn" for entry in standing)
