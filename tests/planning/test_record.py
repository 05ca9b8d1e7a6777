"""The state of an operation, folded from its journal."""

import json
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.corrections import correction, withdrawal
from webapp.planning.entry import Entry, RecordError
from webapp.planning.record import OperationState, State, fold_operation, fold_operations

MONDAY = datetime(2026, 2, 2, tzinfo=UTC)


def mon(clock: str, day: int = 0) -> datetime:
    """Monday's wall clock in UTC, or that of so many days later."""
    hour, minute = clock.split(":")
    return MONDAY + timedelta(days=day, hours=int(hour), minutes=int(minute))


def line(kind: str, clock: str, day: int = 0, maker: int | None = 1, **data: object) -> Entry:
    at = mon(clock, day)
    return Entry(f"{kind} {day} {clock} {maker}", at, at, kind, maker, operation=7, build=3, data=data)


def fold(*entries: Entry, now: datetime | None = None, asks: tuple[str, ...] = ()) -> OperationState:
    return fold_operation(entries, mon("18:00") if now is None else now, asks)


def test_nothing_written_is_not_started() -> None:
    state = fold()
    assert state.state is State.NOT_STARTED
    assert (state.started, state.finished, state.worked_minutes, state.spans) == (None, None, 0, ())


def test_a_started_operation_is_in_hand_and_its_clock_runs() -> None:
    state = fold(line("started", "09:00"), now=mon("09:42"))
    assert state.state is State.IN_HAND
    assert (state.started, state.worked_minutes, state.at_it) == (mon("09:00"), 42, (1,))


def test_a_pause_stops_the_clock_until_it_is_resumed() -> None:
    paused = fold(line("started", "09:00"), line("paused", "10:00"))
    assert (paused.state, paused.worked_minutes) == (State.PAUSED, 60)
    resumed = fold(line("started", "09:00"), line("paused", "10:00"), line("resumed", "13:00"), now=mon("13:15"))
    assert (resumed.state, resumed.worked_minutes, resumed.started) == (State.IN_HAND, 75, mon("09:00"))


def test_done_ends_the_work_of_everybody() -> None:
    state = fold(line("started", "09:00"), line("started", "09:30", maker=2), line("done", "10:00"))
    assert (state.state, state.finished, state.worked_minutes) == (State.DONE, mon("10:00"), 90)
    assert [(s.maker, s.start, s.end) for s in state.spans] == [
        (1, mon("09:00"), mon("10:00")),
        (2, mon("09:30"), mon("10:00")),
    ]


def test_one_makers_pause_leaves_the_other_at_it() -> None:
    state = fold(line("started", "09:00"), line("started", "09:30", maker=2), line("paused", "10:00"), now=mon("10:30"))
    assert (state.at_it, state.worked_minutes) == ((2,), 120)
    all_stop = fold(line("started", "09:00"), line("started", "09:30", maker=2), line("paused", "10:00", maker=None))
    assert (all_stop.state, all_stop.worked_minutes) == (State.PAUSED, 90)


def test_starting_the_same_timer_twice_gives_one_timer() -> None:
    """SA09: the phone and the desktop both start it."""
    state = fold(line("started", "09:00"), line("started", "09:05"), now=mon("10:00"))
    assert len(state.spans) == 1
    assert state.worked_minutes == 60


def test_the_same_entry_sent_twice_changes_nothing() -> None:
    """SA15: a double tap, and a retry after a lost answer."""
    begun, over = line("started", "09:00"), line("done", "10:00")
    assert fold(begun, begun, over, over, begun) == fold(begun, over)


def test_a_second_done_does_not_move_the_first() -> None:
    assert fold(line("started", "09:00"), line("done", "10:00"), line("done", "10:05", maker=2)).finished == mon(
        "10:00"
    )


def test_done_with_remembered_minutes_needs_no_start() -> None:
    state = fold(line("done", "12:00", minutes=40))
    assert (state.state, state.started, state.worked_minutes) == (State.DONE, mon("11:20"), 40)
    assert state.spans[0].remembered


def test_done_without_a_start_or_minutes_took_no_time() -> None:
    state = fold(line("done", "12:00"))
    assert (state.state, state.started, state.finished, state.worked_minutes) == (
        State.DONE,
        mon("12:00"),
        mon("12:00"),
        0,
    )


def test_time_filled_in_afterwards_counts_and_leaves_the_operation_open() -> None:
    state = fold(line("worked", "17:00", minutes=90, remembered=True))
    assert (state.state, state.worked_minutes, state.started) == (State.PAUSED, 90, mon("15:30"))


def test_starting_again_opens_a_done_operation() -> None:
    begun = [line("started", "09:00"), line("done", "10:00"), line("started", "11:00")]
    again = fold(*begun, now=mon("11:30"))
    assert (again.state, again.finished, again.worked_minutes) == (State.IN_HAND, None, 90)
    assert fold(*begun, line("done", "12:00")).finished == mon("12:00")


def test_undoing_done_puts_it_back_in_hand_with_its_clock_running_on() -> None:
    begun, slip = line("started", "09:00"), line("done", "10:00")
    state = fold(begun, slip, withdrawal(slip, "undo", arrived=mon("10:01")), now=mon("10:30"))
    assert (state.state, state.worked_minutes) == (State.IN_HAND, 90)


def test_an_abandoned_operation_keeps_its_hours_and_frees_its_people() -> None:
    state = fold(line("started", "09:00"), line("clamped", "09:30"), line("abandoned", "10:00"), line("done", "10:01"))
    assert (state.state, state.abandoned_at, state.worked_minutes, state.finished) == (
        State.ABANDONED,
        mon("10:00"),
        60,
        None,
    )


def test_what_is_started_again_after_abandoning_has_no_clamps_on() -> None:
    gone = [line("started", "09:00"), line("clamped", "09:30"), line("abandoned", "10:00")]
    state = fold(*gone, line("started", "11:00"))
    assert (state.state, state.wait_began, state.abandoned_at) == (State.IN_HAND, None, None)


def test_worked_minutes_are_real_ones_over_a_clock_change() -> None:
    """SA08: New York, 7 Mar 14:00 to 8 Mar 14:00 by the wall clock is 23 h."""
    york = ZoneInfo("America/New_York")
    begun, over = (datetime(2026, 3, day, 14, tzinfo=york) for day in (7, 8))
    entries = [Entry("a", begun, begun, "started", 1, 7), Entry("b", over, over, "done", 1, 7)]
    assert fold_operation(entries, over).worked_minutes == 23 * 60


def test_minutes_are_cut_once_for_the_whole_operation() -> None:
    entries = [
        Entry(f"{kind}{i}", at, at, kind, 1, 7)
        for i in range(2)
        for kind, at in (
            ("started", mon(f"{9 + i}:00")),
            ("paused", mon(f"{9 + i}:10") + timedelta(seconds=40)),
        )
    ]
    assert fold_operation(entries, mon("18:00")).worked_minutes == 21


def test_a_batch_counts_what_is_done_in_all() -> None:
    counts = [line("counted", "10:00", done=9), line("counted", "11:00", done=15)]
    assert fold(*counts).done_count == 15
    mended = correction(counts[1], "mended", arrived=mon("11:05"), data={"done": 14})
    assert fold(*counts, mended).done_count == 14


def test_flags_answered_for_keep_their_reasons_and_tending_its_times() -> None:
    state = fold(
        line("overruled", "10:00", flag="too-early", reason="scrap piece held"),
        line("tended", "10:20", key="wipe"),
        line("tended", "10:40", key="wipe"),
    )
    assert state.overruled == {"too-early": "scrap piece held"}
    assert state.tended == {"wipe": mon("10:20")}
    assert state.state is State.NOT_STARTED


def test_a_phone_whose_clock_runs_ahead_did_it_now() -> None:
    state = fold(line("started", "09:10"), now=mon("09:00"))
    assert (state.state, state.started, state.worked_minutes) == (State.IN_HAND, mon("09:00"), 0)


def test_a_now_without_a_zone_is_refused() -> None:
    with pytest.raises(RecordError, match="time zone"):
        fold_operation([], datetime(2026, 2, 2, 9))  # noqa: DTZ001 - the fault under test


def test_a_line_moved_to_another_operation_counts_there() -> None:
    slip = line("started", "09:00")
    moved = Entry("moved", slip.at, mon("09:05"), "started", 1, operation=8, corrects=slip.id)
    states = fold_operations([slip, moved], mon("10:00"))
    assert {key: state.worked_minutes for key, state in states.items()} == {8: 60}


def test_the_shop_document_gets_plain_values() -> None:
    state = fold(
        line("started", "09:00"),
        line("clamped", "09:40"),
        line("done", "10:00"),
        line("reached", "11:00", stage="clamps off"),
        line("overruled", "11:30", flag="too-early", reason="test piece"),
        line("counted", "09:50", done=3),
    )
    fields = json.loads(json.dumps(state.as_document_fields()))
    assert fields == {
        "started": "2026-02-02T09:00:00+00:00",
        "paused": False,
        "finished": "2026-02-02T10:00:00+00:00",
        "abandoned": None,
        "worked_minutes": 60,
        "wait_began": "2026-02-02T09:40:00+00:00",
        "reached": {"clamps off": "2026-02-02T11:00:00+00:00"},
        "done": 3,
        "overruled": ["too-early"],
    }


def test_the_minutes_of_two_who_work_together_count_side_by_side_in_the_document() -> None:
    state = fold(line("started", "09:00"), line("started", "09:00", maker=2), now=mon("09:30"))
    assert state.worked_minutes == 60
    assert state.as_document_fields(makers=2)["worked_minutes"] == 30
    assert state.as_document_fields(worked_minutes=45)["worked_minutes"] == 45


def test_a_paused_operation_says_so_in_the_document() -> None:
    assert fold(line("started", "09:00"), line("paused", "10:00")).as_document_fields()["paused"] is True
    assert fold(line("started", "09:00")).as_document_fields()["paused"] is False


KINDS = ["started", "resumed", "paused", "done", "abandoned", "clamped", "worked"]


@st.composite
def journals(draw: st.DrawFn) -> list[Entry]:
    entries: list[Entry] = []
    for i in range(draw(st.integers(0, 8))):
        at = mon("08:00") + timedelta(minutes=draw(st.integers(0, 20)), seconds=draw(st.sampled_from([0, 30])))
        kind, maker = draw(st.sampled_from(KINDS)), draw(st.sampled_from([1, 2, None]))
        data = {"minutes": draw(st.integers(1, 30))} if kind == "worked" else {}
        entries.append(Entry(str(i), at, at, kind, maker, 7, 3, data))
        if i and draw(st.booleans()):
            entries.append(withdrawal(draw(st.sampled_from(entries)), f"undo {i}", arrived=mon("09:00")))
    return entries


@given(journals(), st.data())
def test_neither_the_order_of_arrival_nor_copies_change_the_state(journal: list[Entry], data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations([*journal, *journal[:4]]))
    assert fold(*shuffled) == fold(*journal)


@given(journals(), st.integers(0, 90))
def test_a_state_hangs_together(journal: list[Entry], minute: int) -> None:
    now = mon("07:30") + timedelta(minutes=minute)
    state = fold(*journal, now=now)
    assert state.worked_minutes >= 0
    assert all(span.until(now) >= span.start for span in state.spans)
    if state.finished is not None:
        assert state.started is not None
        assert state.started <= state.finished <= now
    assert (state.state is State.IN_HAND) == bool(state.at_it)
    assert len(set(state.at_it)) == len(state.at_it)
