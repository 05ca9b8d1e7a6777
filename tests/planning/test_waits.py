"""The waits of an operation, as far as the journal tells of them: clamps, stages and dry tests."""

from datetime import UTC, datetime, timedelta

from webapp.planning.entry import Entry
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


OILED = [line("started", "09:00"), line("done", "09:20")]


def test_the_wait_begins_when_the_clamps_are_tight_not_when_the_clean_up_ends() -> None:
    state = fold(line("started", "09:00"), line("clamped", "09:40"), line("done", "10:00"))
    assert (state.wait_began, state.waits_from, state.finished) == (mon("09:40"), mon("09:40"), mon("10:00"))
    assert fold(line("started", "09:00"), line("done", "10:00")).waits_from == mon("10:00")


def test_clamps_before_any_clock_begin_the_operation() -> None:
    state = fold(line("clamped", "09:40"))
    assert (state.state, state.started, state.wait_began) == (State.PAUSED, mon("09:40"), mon("09:40"))


def test_the_clamps_set_last_count() -> None:
    assert fold(line("clamped", "09:40"), line("clamped", "09:50")).wait_began == mon("09:50")


def test_a_wait_keeps_the_figures_it_began_with() -> None:
    at_done = fold(line("started", "09:00"), line("done", "10:00", figures=7))
    assert at_done.figures == 7
    tight = fold(line("clamped", "09:40", figures=7), line("done", "10:00", figures=8))
    assert tight.figures == 7


def test_each_stage_of_one_glue_up_is_reached_by_itself() -> None:
    """TA03: out of clamps on Monday at 11:00 is not ready to plane; that is a week later."""
    out, plane = line("reached", "11:00", stage="clamps off"), line("reached", "10:00", day=7, stage="machine")
    both = ("clamps off", "machine")
    glued = [line("started", "09:30"), line("clamped", "10:00"), line("done", "10:10"), out]
    assert fold(*glued, asks=both).state is State.WAITING
    assert fold(*glued).reached == {"clamps off": mon("11:00")}
    state = fold(*glued, plane, now=mon("12:00", 7), asks=both)
    assert (state.state, state.reached["machine"]) == (State.DONE, mon("10:00", 7))


def test_each_part_of_a_glue_up_in_two_has_its_own_clamps() -> None:
    """TA04: two leg-and-rail pairs, then the cross rails; each has a wait of its own."""
    first = [line("started", "09:00"), line("clamped", "09:09"), line("done", "09:12")]
    at = mon("10:20")
    second = Entry("second", at, at, "clamped", 1, operation=8, build=3)
    states = fold_operations([*first, second], mon("10:30"))
    assert (states[7].waits_from, states[8].waits_from) == (mon("09:09"), mon("10:20"))


def test_the_end_of_a_wait_asks_and_only_an_answer_ends_it() -> None:
    """TA07: oil at 40 °F in a garage. The day is over; that ticks nothing."""
    state = fold(*OILED, now=mon("09:20", 14), asks=("dry",))
    assert (state.state, state.reached) == (State.WAITING, {})


def test_still_tacky_extends_the_wait_and_keeps_the_tests() -> None:
    """TA07: tacky after a day, tacky after a week, dry after two."""
    looks = [
        line("dry-tested", "09:30", 1, stage="dry", answer="tacky", again_at="2026-02-09T09:30:00+00:00"),
        line("dry-tested", "09:40", 7, stage="dry", answer="tacky", again_at=mon("09:30", 14)),
        line("dry-tested", "09:30", 14, stage="dry", answer="dry"),
    ]
    for seen, again in ((1, mon("09:30", 7)), (2, mon("09:30", 14))):
        state = fold(*OILED, *looks[:seen], now=mon("12:00", 8), asks=("dry",))
        assert (state.state, state.look_again, len(state.tests)) == (State.WAITING, {"dry": again}, seen)
    state = fold(*OILED, *looks, now=mon("12:00", 14), asks=("dry",))
    assert (state.state, state.look_again, state.reached) == (State.DONE, {}, {"dry": mon("09:30", 14)})
    assert [test.answer for test in state.tests] == ["tacky", "tacky", "dry"]


def test_a_tacky_answer_waits_even_where_no_stage_is_asked_about() -> None:
    assert fold(*OILED, line("dry-tested", "12:00", stage="dry", answer="wet", again_at=mon("17:00"))).look_again == {
        "dry": mon("17:00")
    }
    state = fold(*OILED, line("dry-tested", "12:00", stage="dry", answer="wet", again_at=mon("17:00")))
    assert state.state is State.WAITING


def test_tacky_after_dry_takes_the_stage_back() -> None:
    dry = line("dry-tested", "12:00", stage="dry", answer="dry")
    tacky = line("dry-tested", "13:00", stage="dry", answer="tacky", again_at=mon("17:00"))
    assert fold(*OILED, dry, tacky).reached == {}
    assert fold(*OILED, dry, tacky, line("reached", "17:00", stage="dry")).reached == {"dry": mon("17:00")}


def test_a_stage_is_reached_when_it_was_first_found_so() -> None:
    looks = [line("dry-tested", clock, stage="dry", answer="dry") for clock in ("12:00", "14:00")]
    assert fold(*OILED, *looks).reached == {"dry": mon("12:00")}


def test_the_end_of_a_wait_hangs_on_stored_instants_only() -> None:
    """TA31: the phone was dead from 15:00 to 18:10; the 4 h began at 13:30 whenever anyone looks."""
    clamped = [line("clamped", "13:30"), line("done", "13:35")]
    ends = {fold(*clamped, now=mon(clock)).waits_from for clock in ("13:36", "15:00", "18:10")}
    assert ends == {mon("13:30")}


def test_a_stage_still_tacky_is_not_before_the_next_look() -> None:
    tacky = line("dry-tested", "12:00", stage="dry", answer="tacky", again_at=mon("17:00"))
    early = fold(*OILED, tacky, now=mon("12:30")).as_document_fields()["reached"]
    assert early == {"dry": "2026-02-02T17:00:00+00:00"}
    overdue = fold(*OILED, tacky, now=mon("17:30") + timedelta(seconds=20)).as_document_fields()["reached"]
    assert overdue == {"dry": "2026-02-02T17:32:00+00:00"}  # the document's now is rounded up to 17:31
