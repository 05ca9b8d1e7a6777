"""When everything happened, seen from any moment at which somebody may look: pure, no database."""

from datetime import UTC, datetime, timedelta
from itertools import count
from zoneinfo import ZoneInfo

import pytest

from webapp.invented import place
from webapp.invented.pieces import PIECES
from webapp.invented.script import HELPER, OWNER
from webapp.invented.timeline import Timeline, lay
from webapp.planning import instants
from webapp.planning.entry import Entry
from webapp.planning.hours import Hours
from webapp.planning.labour import labour
from webapp.planning.spans import Span

MAKERS = {OWNER: 1, HELPER: 2}
TODAY = timedelta(hours=3)
MOMENTS = [
    ("Europe/Oslo", "2026-11-25T14:18:00+01:00"),  # a Wednesday afternoon
    ("Europe/Oslo", "2026-11-28T13:05:30+01:00"),  # just after closing on Saturday
    ("Europe/Oslo", "2026-11-29T22:40:00+01:00"),  # Sunday night
    ("Europe/Oslo", "2026-11-30T00:00:10+01:00"),  # just after midnight
    ("Europe/Oslo", "2026-11-30T08:02:00+01:00"),  # Monday, just opened
    ("Europe/Oslo", "2026-12-01T12:45:00+01:00"),  # at lunch
    ("Europe/Oslo", "2026-12-03T17:00:40+01:00"),  # Thursday, just closed
    ("Europe/Oslo", "2026-10-25T02:30:00+01:00"),  # the hour that comes twice
    ("America/New_York", "2026-03-08T03:10:00-04:00"),  # the hour that does not come
    ("America/New_York", "2027-01-02T10:00:00-05:00"),
    ("Asia/Kolkata", "2026-06-09T11:47:00+05:30"),
    ("Australia/Lord_Howe", "2026-04-05T01:45:00+11:00"),
]


@pytest.fixture(params=MOMENTS, ids=lambda found: f"{found[1]}")
def seen(request: pytest.FixtureRequest) -> tuple[str, datetime]:
    zone, moment = request.param
    return zone, datetime.fromisoformat(moment).astimezone(UTC)


def entries(timeline: Timeline) -> list[Entry]:
    """The journal of the timeline, its operations numbered."""
    number, keys, found = count(1), {}, []
    rows = [(laid.piece.key, event) for laid in timeline.pieces for event in laid.events]
    for piece, event in [*rows, *(("", event) for event in timeline.shop_time)]:
        operation = None
        if event.step:
            operation = keys.setdefault((piece, event.step), len(keys) + 1)
        key, maker = str(next(number)), MAKERS[event.who]
        found.append(Entry(key, event.at, event.at, event.kind, maker, operation, None, dict(event.data)))
    return found


def clocks(timeline: Timeline, zone: str, now: datetime) -> tuple[Span, ...]:
    hours = Hours(place.planned(zone))
    days = [now.astimezone(ZoneInfo(zone)).date() + timedelta(days=ago) for ago in range(-330, 3)]
    closings = [instants.moment(closing) for day in days if (closing := hours.last_closing(day)) is not None]
    found = labour(entries(timeline), now, closings, ZoneInfo(zone))
    assert not found.overlaps, found.overlaps[0]
    assert not found.questions, found.questions[0]
    return found.spans


def test_one_clock_runs_and_none_ran_past_closing_or_beside_another(seen: tuple[str, datetime]) -> None:
    zone, now = seen
    spans = clocks(lay(PIECES, zone, now), zone, now)
    assert [span.maker for span in spans if span.end is None] == [MAKERS[OWNER]]


def test_nothing_lies_in_the_future(seen: tuple[str, datetime]) -> None:
    zone, now = seen
    timeline = lay(PIECES, zone, now)
    assert all(event.at <= now for laid in timeline.pieces for event in laid.events)
    assert all(taken.at <= now for laid in timeline.pieces for taken in laid.taken)
    assert all(event.at <= now - TODAY for event in timeline.shop_time)


def test_work_of_the_past_lies_in_the_hours_of_who_did_it(seen: tuple[str, datetime]) -> None:
    zone, now = seen
    hours = Hours(place.planned(zone))
    for span in clocks(lay(PIECES, zone, now), zone, now):
        if span.remembered or span.end is None or span.end > now - TODAY:
            continue
        maker = (span.maker or 0) - 1
        begin, end = instants.cut(span.start), instants.up(span.end)
        assert hours.openings(maker, begin, end) == ((begin, end),), span


def test_work_of_today_comes_after_all_that_came_before(seen: tuple[str, datetime]) -> None:
    zone, now = seen
    for laid in lay(PIECES, zone, now).pieces:
        live = {step.key for step in laid.piece.steps if step.live}
        assert all(event.at < now - TODAY for event in laid.events if event.step not in live)


def test_what_waits_is_begun_after_what_it_waits_for(seen: tuple[str, datetime]) -> None:
    zone, now = seen
    for laid in lay(PIECES, zone, now).pieces:
        begun = {event.step: event.at for event in reversed(laid.events) if event.kind == "started"}
        done = {event.step: event.at for event in laid.events if event.kind in ("done", "abandoned")}
        for step in laid.piece.steps:
            for name in step.after if step.key in begun and not step.early else ():
                assert begun[step.key] > done[name.partition(": ")[0]], step.key


def test_the_same_moment_gives_the_same_timeline() -> None:
    zone, now = "Europe/Oslo", datetime(2026, 11, 25, 13, 18, tzinfo=UTC)
    assert lay(PIECES, zone, now) == lay(PIECES, zone, now)


def test_ten_months_are_told() -> None:
    now = datetime(2026, 11, 25, 13, 18, tzinfo=UTC)
    first = min(event.at for laid in lay(PIECES, "Europe/Oslo", now).pieces for event in laid.events)
    assert 280 <= (now - first).days <= 310
