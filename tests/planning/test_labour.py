"""One person, one labour clock: nothing counted twice, no night booked unasked."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import combinations, permutations
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.corrections import correction, effective
from webapp.planning.entry import Entry, RecordError
from webapp.planning.labour import Labour, answer, booked, labour, midnight_after, pauses
from webapp.planning.spans import Span, worked_spans
from webapp.planning.stretches import Stretch
from webapp.planning.timesheet import hours, total

ZONE = ZoneInfo("UTC")
MONDAY = datetime(2026, 2, 2, tzinfo=UTC)
A, B = 7, 8


def mon(clock: str, day: int = 0) -> datetime:
    """Monday's wall clock in UTC, or that of so many days later."""
    hour, minute = clock.split(":")
    return MONDAY + timedelta(days=day, hours=int(hour), minutes=int(minute))


CLOSINGS = [mon("17:00", day) for day in range(5)]


def line(kind: str, clock: str, operation: int | None = A, day: int = 0, maker: int = 1, **data: object) -> Entry:
    at = mon(clock, day)
    return Entry(f"{kind} {day} {clock} {operation} {maker}", at, at, kind, maker, operation, data=data)


def lab(*entries: Entry, now: datetime, closings: Iterable[datetime] = CLOSINGS) -> Labour:
    return labour(entries, now, closings, ZONE)


def told(work: Labour) -> list[tuple[int | None, str, str]]:
    return [(s.operation, f"{s.start:%a %H:%M}", f"{s.end:%a %H:%M}") for s in work.stretches]


def minutes(work: Labour) -> dict[tuple[int | None, int], int]:
    """Minutes by operation and day of the month."""
    return {key: h.minutes for key, h in total(hours(work.stretches, ZONE), lambda x: (x.operation, x.day.day)).items()}


FORGOTTEN = [line("started", "09:00", A), line("started", "11:00", B), line("paused", "12:00", B)]
NEXT_MORNING = mon("08:00", 1)


def test_a_clock_left_running_is_asked_about_and_the_night_is_not_booked() -> None:
    """TA27: A from 09:00, B from 11:00 to 12:00, A forgotten until 08:00: 23 h are asked about, no day is too long."""
    work = lab(*FORGOTTEN, now=NEXT_MORNING)
    assert [(q.span.operation, q.closing, q.ran) for q in work.questions] == [
        (A, mon("17:00"), timedelta(hours=23)),
    ]
    assert told(work) == [
        (A, "Mon 09:00", "Mon 11:00"),
        (B, "Mon 11:00", "Mon 12:00"),
        (A, "Mon 12:00", "Mon 17:00"),
    ]
    assert minutes(work) == {(A, 2): 7 * 60, (B, 2): 60}
    assert [(s.operation, s.asked) for s in work.stretches] == [(A, True), (B, False), (A, True)]


def test_the_overlap_of_two_clocks_is_shown() -> None:
    """TA27: both ran from 11:00 to 12:00."""
    work = lab(*FORGOTTEN, now=NEXT_MORNING)
    assert [(o.first.operation, o.second.operation, o.start, o.end) for o in work.overlaps] == [
        (A, B, mon("11:00"), mon("12:00"))
    ]


def test_the_answer_books_the_real_time_and_closes_the_question() -> None:
    """TA27: stopped at 16:00, said next morning."""
    asked = lab(*FORGOTTEN, now=NEXT_MORNING).questions[0]
    mended = lab(*FORGOTTEN, answer(asked, "said", mon("16:00"), arrived=NEXT_MORNING), now=NEXT_MORNING)
    assert mended.questions == ()
    assert minutes(mended) == {(A, 2): 6 * 60, (B, 2): 60}
    assert not any(s.asked for s in mended.stretches)


def test_a_forgotten_clock_stopped_in_the_morning_is_asked_about_all_the_same() -> None:
    """TA27: he taps pause at 08:00 and has not noticed."""
    work = lab(*FORGOTTEN, line("paused", "08:00", A, day=1), now=mon("09:00", 1))
    assert [(q.span.operation, q.ran) for q in work.questions] == [(A, timedelta(hours=23))]
    assert minutes(work) == {(A, 2): 7 * 60, (B, 2): 60}
    said = answer(work.questions[0], "said", mon("16:00"), arrived=mon("09:00", 1))
    assert said.corrects == "paused 1 08:00 7 1"
    mended = lab(*FORGOTTEN, line("paused", "08:00", A, day=1), said, now=mon("09:00", 1))
    assert (mended.questions, minutes(mended)) == ((), {(A, 2): 6 * 60, (B, 2): 60})


def test_an_end_that_was_corrected_or_asked_for_is_believed() -> None:
    begun, over = line("started", "15:00"), line("done", "21:00")
    assert len(lab(begun, over, now=mon("22:00")).questions) == 1
    assert lab(begun, replace(over, data={"answered": True}), now=mon("22:00")).questions == ()
    mended = correction(over, "mended", arrived=mon("22:00"), at=mon("20:00"))
    assert minutes(lab(begun, over, mended, now=mon("22:00"))) == {(A, 2): 300}


def test_the_answer_must_lie_between_the_start_and_now() -> None:
    asked = lab(*FORGOTTEN, now=NEXT_MORNING).questions[0]
    with pytest.raises(RecordError, match="later time"):
        answer(asked, "said", mon("08:59"), arrived=NEXT_MORNING)
    with pytest.raises(RecordError, match="earlier one"):
        answer(asked, "said", mon("08:01", 1), arrived=NEXT_MORNING)


def test_a_running_clock_is_asked_about_from_closing_on() -> None:
    assert lab(line("started", "09:00"), now=mon("17:00")).questions == ()
    assert len(lab(line("started", "09:00"), now=mon("17:01")).questions) == 1


def test_a_clock_stopped_soon_after_closing_is_believed() -> None:
    assert minutes(lab(line("started", "16:00"), line("done", "18:30"), now=mon("20:00"))) == {(A, 2): 150}
    assert minutes(lab(line("started", "16:00"), line("done", "19:30"), now=mon("20:00"))) == {(A, 2): 60}


def test_saying_that_he_is_still_at_it_lets_the_clock_run_on() -> None:
    work = lab(line("started", "16:00"), line("resumed", "17:30"), now=mon("19:00"))
    assert (work.questions, minutes(work)) == ((), {(A, 2): 180})


def test_work_of_an_evening_is_asked_about_at_midnight_not_at_the_next_closing() -> None:
    work = lab(line("started", "20:00"), now=NEXT_MORNING)
    assert [q.closing for q in work.questions] == [mon("00:00", 1)]
    assert minutes(work) == {(A, 2): 240}


def test_a_clock_of_a_shut_day_does_not_run_through_the_week_end() -> None:
    work = lab(line("started", "10:00", day=5), now=mon("08:00", 7))
    assert minutes(work) == {(A, 7): 14 * 60}
    assert work.questions[0].ran == timedelta(hours=46)


def test_a_late_shift_over_midnight_is_asked_about_at_its_own_closing() -> None:
    closings = [mon("02:00", 1)]
    assert lab(line("started", "22:00"), now=mon("01:00", 1), closings=closings).questions == ()
    work = lab(line("started", "22:00"), now=mon("03:00", 1), closings=closings)
    assert minutes(work) == {(A, 2): 120, (A, 3): 120}


def test_starting_something_else_can_pause_the_first() -> None:
    """TA27: the offer taken: one clock runs."""
    first, second = line("started", "09:00", A), line("started", "11:00", B)
    stop = pauses(second, worked_spans([first], mon("11:00")))
    assert [(e.kind, e.maker, e.operation, e.at) for e in stop] == [("paused", 1, A, mon("11:00"))]
    work = lab(first, second, *stop, now=mon("12:00"))
    assert (work.overlaps, minutes(work)) == ((), {(A, 2): 120, (B, 2): 60})


def test_the_offer_made_twice_pauses_once() -> None:
    """SA15: the same start sent twice brings the same pause."""
    first, second = line("started", "09:00", A), line("started", "11:00", B)
    spans = worked_spans([first], mon("11:00"))
    assert pauses(second, spans) == pauses(second, spans)
    stop = pauses(second, spans)
    assert lab(first, second, *stop, *stop, now=mon("12:00")) == lab(first, second, *stop, now=mon("12:00"))


def test_shop_time_is_the_same_clock() -> None:
    sharpening = line("started", "09:00", None, shop_time="sharpening")
    stop = pauses(line("started", "09:30", A), worked_spans([sharpening], mon("09:30")))
    work = lab(sharpening, line("started", "09:30", A), *stop, line("done", "10:00", A), now=mon("12:00"))
    assert [(s.shop_time, s.operation, s.end - s.start) for s in work.stretches] == [
        ("sharpening", None, timedelta(minutes=30)),
        (None, A, timedelta(minutes=30)),
    ]


def test_the_clock_started_last_has_the_minutes_of_both() -> None:
    """A 09-12, B 10-11 inside it, C 10:30-13."""
    work = lab(
        line("started", "09:00", A),
        line("started", "10:00", B),
        line("started", "10:30", 9),
        line("paused", "11:00", B),
        line("paused", "12:00", A),
        line("paused", "13:00", 9),
        now=mon("14:00"),
    )
    assert told(work) == [
        (A, "Mon 09:00", "Mon 10:00"),
        (B, "Mon 10:00", "Mon 10:30"),
        (9, "Mon 10:30", "Mon 13:00"),
    ]
    assert len(work.overlaps) == 3


def test_two_people_at_one_operation_are_both_paid() -> None:
    both = [line("started", "09:00", maker=1), line("started", "09:00", maker=2), line("done", "10:00")]
    assert minutes(lab(*both, now=mon("12:00"))) == {(A, 2): 120}


def test_remembered_time_is_whole_marked_and_no_overlap() -> None:
    work = lab(
        line("started", "16:00", A),
        line("done", "17:00", A),
        line("worked", "17:00", B, minutes=45, remembered=True),
        now=mon("18:00"),
    )
    assert work.overlaps == ()
    by = total(hours(work.stretches, ZONE), lambda x: x.operation)
    assert (by[A].minutes, by[A].remembered, by[B].minutes, by[B].remembered) == (60, 0, 45, 45)


def test_labour_is_the_same_from_every_order() -> None:
    assert len({lab(*order, now=NEXT_MORNING) for order in permutations(FORGOTTEN)}) == 1


def test_midnight_that_comes_twice_is_never_in_the_past() -> None:
    """Newfoundland put its clocks back at 00:01 until 2011, so 24:00 came twice (IANA zone data)."""
    johns = ZoneInfo("America/St_Johns")
    moment = datetime(2010, 11, 7, 2, 0, tzinfo=UTC)
    while moment < datetime(2010, 11, 7, 5, 0, tzinfo=UTC):
        assert moment < midnight_after(moment, johns) <= moment + timedelta(hours=25)
        moment += timedelta(minutes=1)


@st.composite
def journals(draw: st.DrawFn) -> list[Entry]:
    """One or two people, four things to do, three days, and hands that forget to stop a clock."""
    entries = []
    for i in range(draw(st.integers(0, 12))):
        at = MONDAY + timedelta(minutes=draw(st.integers(0, 3 * 24 * 12)) * 5)
        operation = draw(st.sampled_from([A, B, 9, None]))
        data = {"shop_time": "sharpening"} if operation is None else {}
        kind = draw(st.sampled_from(["started", "started", "resumed", "paused", "done"]))
        entries.append(Entry(str(i), at, at, kind, draw(st.sampled_from([1, 2])), operation, data=data))
    return entries


def covered(spans: Sequence[Span], now: datetime) -> timedelta:
    """The time in which at least one of the spans ran, counted by fives of minutes: a way of its own."""
    fives = {
        span.start + timedelta(minutes=5 * i)
        for span in spans
        for i in range((span.until(now) - span.start) // timedelta(minutes=5))
    }
    return len(fives) * timedelta(minutes=5)


NOW = MONDAY + timedelta(days=3)


@given(journals())
def test_all_that_a_person_books_is_the_time_in_which_a_clock_of_his_ran(journal: list[Entry]) -> None:
    spans = worked_spans(effective(journal), NOW)
    for maker in (1, 2):
        own = [span for span in spans if span.maker == maker]
        lengths = [s.end - s.start for s in booked(own, NOW)]
        assert all(length > timedelta() for length in lengths)
        assert sum(lengths, timedelta()) == covered(own, NOW)


def overlap(one: Stretch, other: Stretch) -> bool:
    return one.maker == other.maker and one.start < other.end and other.start < one.end


@given(journals())
def test_no_minute_of_a_person_is_booked_twice_and_no_day_is_too_long(journal: list[Entry]) -> None:
    work = labour(journal, NOW, CLOSINGS, ZONE)
    assert not any(overlap(*pair) for pair in combinations(work.stretches, 2))
    days = total(hours(work.stretches, ZONE), lambda x: (x.maker, x.day))
    assert all(0 < h.minutes <= 24 * 60 for h in days.values())


@given(journals())
def test_nothing_is_booked_after_the_closing_of_a_question(journal: list[Entry]) -> None:
    work = labour(journal, NOW, CLOSINGS, ZONE)
    for question in work.questions:
        alone = booked([question.span], NOW, [question])
        assert alone[-1].end == question.closing < question.span.until(NOW)
        assert alone[-1].asked


@given(journals(), st.data())
def test_neither_the_order_nor_copies_change_what_is_booked(journal: list[Entry], data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations([*journal, *journal[:4]]))
    assert labour(shuffled, NOW, CLOSINGS, ZONE) == labour(journal, NOW, CLOSINGS, ZONE)
