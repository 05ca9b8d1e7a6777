"""The clocks that the journal tells of, and the offer to pause one when another is started."""

from datetime import UTC, datetime, timedelta

from webapp.planning.entry import Entry
from webapp.planning.labour import pauses
from webapp.planning.spans import worked_spans

MONDAY = datetime(2026, 2, 2, tzinfo=UTC)
A, B = 7, 8


def mon(clock: str, day: int = 0) -> datetime:
    """Monday's wall clock in UTC, or that of so many days later."""
    hour, minute = clock.split(":")
    return MONDAY + timedelta(days=day, hours=int(hour), minutes=int(minute))


def line(kind: str, clock: str, operation: int | None = A, day: int = 0, maker: int = 1, **data: object) -> Entry:
    at = mon(clock, day)
    return Entry(f"{kind} {day} {clock} {operation} {maker}", at, at, kind, maker, operation, data=data)


def test_kinds_of_shop_time_are_stopped_each_by_itself_or_all_at_once() -> None:
    both = [line("started", "09:00", None, shop_time="sharpening"), line("started", "09:10", None, shop_time="quoting")]
    one = worked_spans([*both, line("paused", "09:20", None, shop_time="quoting")], mon("09:30"))
    assert [(s.shop_time, s.end) for s in one] == [("sharpening", None), ("quoting", mon("09:20"))]
    every = worked_spans([*both, line("done", "09:20", None)], mon("09:30"))
    assert [s.end for s in every] == [mon("09:20")] * 2
    another = worked_spans([*both, line("paused", "09:20", None, maker=2)], mon("09:30"))
    assert [s.end for s in another] == [None, None]


def test_only_ones_own_other_clocks_are_offered_for_pausing() -> None:
    running = [line("started", "09:00", A), line("started", "09:00", B, maker=2)]
    spans = worked_spans(running, mon("10:00"))
    assert pauses(line("started", "10:00", A), spans) == ()
    assert [e.operation for e in pauses(line("started", "10:00", 9, maker=2), spans)] == [B]


def test_a_span_lists_what_its_clock_is_for() -> None:
    meeting = Entry("m", mon("09:00"), mon("09:00"), "started", 1, build=3)
    at_build, at_operation = worked_spans([meeting, line("started", "09:30")], mon("10:00"))
    assert (at_build.at, at_operation.at) == ((None, 3, None), (A, None, None))


def test_done_on_one_operation_leaves_all_other_clocks_running() -> None:
    running = [line("started", "09:00", A), line("started", "09:10", B), line("started", "09:20", None)]
    spans = worked_spans([*running, line("done", "10:00", A)], mon("11:00"))
    assert [(s.operation, s.end) for s in spans] == [(A, mon("10:00")), (B, None), (None, None)]
