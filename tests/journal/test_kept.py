"""What is worked out once is worked out anew as soon as anything about it is another."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import event, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.builds.models import Build, Operation
from webapp.journal.actions import RECENT, labour_of
from webapp.journal.models import Entry
from webapp.journal.reading import read_mended
from webapp.journal.states import states_of
from webapp.journal.time_sheet import CLOCK_KINDS, lines_of
from webapp.journal.verbs import Clocks, clocks_in, clocks_of
from webapp.planning.corrections import effective
from webapp.planning.spans import worked_spans
from webapp.planning.timesheet import hours
from webapp.shops.models import Closed, Maker, Opening, Shop

OLD = datetime(2025, 9, 9, 13, tzinfo=UTC)  # a Tuesday, 9:00 in the shop


def worked(db: Session, shop: Shop, name: str, at: datetime, **span: float) -> tuple[Maker, Operation]:
    ada, build = factories.maker(db, shop, "Ada"), factories.build(db, shop, name)
    operation = factories.operation(db, build)
    factories.entry(db, ada, "started", at, on=operation)
    factories.entry(db, ada, "done", at + timedelta(**span), on=operation)
    return ada, operation


def minutes(db: Session, shop: Shop, build_id: int, clock: Clock) -> int:
    """What is booked on a build; the same as is found when all the journal is folded anew."""
    found = lines_of(db, shop, [build_id], clock.moment)[build_id]
    anew = hours(labour_of(db, shop, clock.moment).stretches, shop.zone)
    assert sorted(map(str, found)) == sorted(str(line) for line in anew if line.build == build_id)
    return sum(line.minutes for line in found)


def test_a_late_line_counts(db: Session, shop: Shop, clock: Clock) -> None:
    ada, operation = worked(db, shop, "Desk", OLD, hours=3)
    build_id = operation.build_id
    assert minutes(db, shop, build_id, clock) == 180
    later = datetime(2025, 9, 10, 13, tzinfo=UTC)
    factories.entry(db, ada, "worked", later, on=db.get_one(Build, build_id), minutes=45)
    assert minutes(db, shop, build_id, clock) == 225


def test_a_clock_on_another_build_that_overlaps_counts(db: Session, shop: Shop, clock: Clock) -> None:
    _, operation = worked(db, shop, "Desk", OLD, hours=3)
    assert minutes(db, shop, operation.build_id, clock) == 180
    worked(db, shop, "Tray", OLD + timedelta(hours=1), hours=1)
    assert minutes(db, shop, operation.build_id, clock) == 120


def test_what_is_put_right_or_taken_back_long_after_counts(db: Session, shop: Shop, clock: Clock) -> None:
    ada, operation = worked(db, shop, "Desk", OLD, hours=3)
    done = db.scalars(select(Entry).where(Entry.kind == "done")).one()
    assert minutes(db, shop, operation.build_id, clock) == 180
    factories.entry(db, ada, "done", OLD + timedelta(hours=2), on=operation).corrects = done.id
    db.commit()
    assert minutes(db, shop, operation.build_id, clock) == 120
    assert states_of(db, [operation.build_id], clock.moment)[operation.id].worked_minutes == 120
    mended = db.scalars(select(Entry).where(Entry.corrects == done.id)).one()
    factories.entry(db, ada, "withdrawn", clock.moment, on=operation).corrects = mended.id
    db.commit()
    assert minutes(db, shop, operation.build_id, clock) == 180
    assert states_of(db, [operation.build_id], clock.moment)[operation.id].worked_minutes == 180


def test_other_hours_of_the_shop_count(db: Session, shop: Shop, clock: Clock) -> None:
    """A clock that was stopped long after closing counts to the closing, until somebody says when it was stopped."""
    _, operation = worked(db, shop, "Desk", OLD, hours=13)
    assert minutes(db, shop, operation.build_id, clock) == 8 * 60
    for row in db.scalars(select(Opening).where(Opening.weekday == 1)):
        row.closes = 20 * 60
    db.commit()
    assert minutes(db, shop, operation.build_id, clock) == 13 * 60
    db.add(Closed(shop_id=shop.id, first_on=OLD.date(), last_on=OLD.date()))
    db.commit()
    assert minutes(db, shop, operation.build_id, clock) == 13 * 60  # to midnight, where there is no closing


def test_a_running_clock_goes_on(db: Session, shop: Shop, clock: Clock) -> None:
    ada, build = factories.maker(db, shop, "Ada"), factories.build(db, shop)
    operation = factories.operation(db, build)
    factories.entry(db, ada, "started", clock.moment, on=operation)
    clock.forward(minutes=30)
    assert minutes(db, shop, build.id, clock) == 30
    assert states_of(db, [build.id], clock.moment)[operation.id].worked_minutes == 30
    clock.forward(minutes=30)
    assert minutes(db, shop, build.id, clock) == 60
    assert states_of(db, [build.id], clock.moment)[operation.id].worked_minutes == 60


def test_years_are_booked_alike_in_blocks_and_as_a_whole(db: Session, shop: Shop, clock: Clock) -> None:
    """Work of every day for half a year, over the ends of blocks and over midnight."""
    ada = factories.maker(db, shop, "Ada")
    build = factories.build(db, shop)
    operation = factories.operation(db, build)
    for day in range(170):
        at = OLD - timedelta(hours=day % 9) + timedelta(days=day)
        if at + timedelta(hours=9) < clock.moment:
            factories.entry(db, ada, "started", at, on=operation)
            factories.entry(db, ada, "paused", at + timedelta(hours=1 + day % 8, minutes=day), on=operation)
    assert minutes(db, shop, build.id, clock) > 0


def clocks(db: Session, shop: Shop, clock: Clock) -> Clocks:
    """The clocks of the shop; the same as are found when all lines of late are folded anew."""
    found = clocks_of(db, shop, clock.moment)
    recent = Entry.shop_id == shop.id, Entry.at >= clock.moment - RECENT, Entry.kind.in_(CLOCK_KINDS)
    anew = worked_spans(effective(read_mended(db, shop.id, *recent)), clock.moment)
    assert found == clocks_in(shop, anew, clock.moment)
    return found


def test_clocks_that_run_are_those_of_now(db: Session, shop: Shop, clock: Clock) -> None:
    """A clock goes on, is asked about after closing, is stopped, and is taken up again by a correction."""
    ada, build = factories.maker(db, shop, "Ada"), factories.build(db, shop)
    operation = factories.operation(db, build)
    assert clocks(db, shop, clock) == Clocks((), ())
    begun = factories.entry(db, ada, "started", clock.moment, on=operation)
    assert [span.began.id for span in clocks(db, shop, clock).running] == [begun.id]
    clock.forward(hours=20)
    assert [one.ran for one in clocks(db, shop, clock).questions] == [timedelta(hours=20)]
    late = factories.entry(db, ada, "paused", clock.moment - timedelta(hours=1), on=operation)
    assert [one.span.ended and one.span.ended.id for one in clocks(db, shop, clock).questions] == [late.id]
    factories.entry(db, ada, "withdrawn", clock.moment, on=operation).corrects = begun.id
    db.commit()
    assert clocks(db, shop, clock) == Clocks((), ())


def test_a_clock_started_by_a_phone_that_runs_ahead_is_not_kept(db: Session, shop: Shop, clock: Clock) -> None:
    ada, build = factories.maker(db, shop, "Ada"), factories.build(db, shop)
    factories.entry(db, ada, "started", clock.moment + timedelta(minutes=3), on=factories.operation(db, build))
    for _ in range(6):
        assert [span.start <= clock.moment for span in clocks(db, shop, clock).running] == [True]
        clock.forward(minutes=1)


def test_what_is_known_is_not_asked_for_again(db: Session, shop: Shop, clock: Clock) -> None:
    _, operation = worked(db, shop, "Desk", OLD, hours=3)
    told: list[str] = []
    event.listen(db.get_bind(), "before_cursor_execute", lambda *args: told.append(args[2]))
    for read in (True, False):
        told.clear()
        lines_of(db, shop, [operation.build_id], clock.moment)
        states_of(db, [operation.build_id], clock.moment)
        clocks_of(db, shop, clock.moment)
        assert any("entry.data" in one for one in told) == read
