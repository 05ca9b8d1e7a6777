"""What the journal takes and what it refuses."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from webapp.planning.entry import KINDS, Entry, RecordError, utc

NINE = datetime(2026, 2, 2, 9, tzinfo=UTC)


def entry(kind: str, **data: object) -> Entry:
    return Entry("a", NINE, NINE, kind, maker=1, operation=7, data=data)


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(RecordError, match="time zone"):
        Entry("a", NINE.replace(tzinfo=None), NINE, "started")
    with pytest.raises(RecordError, match="time zone"):
        Entry("a", NINE, NINE.replace(tzinfo=None), "started")
    with pytest.raises(RecordError, match="time zone"):
        utc("2026-02-02T09:00")


def test_text_that_is_no_moment_is_refused() -> None:
    with pytest.raises(RecordError, match="date and time"):
        utc("half past nine")
    with pytest.raises(RecordError, match="date and time"):
        utc(9)


def test_a_moment_of_another_zone_is_kept_in_utc() -> None:
    oslo = timezone(timedelta(hours=1))
    made = Entry("a", datetime(2026, 2, 2, 10, tzinfo=oslo), NINE, "started")
    assert made.at == NINE
    assert made.at.tzinfo is UTC


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(RecordError, match='"undone" is not a kind'):
        entry("undone")


@pytest.mark.parametrize(
    "kind", ["started", "paused", "done", "abandoned", "clamped", "noted", "sized", "photographed"]
)
def test_most_kinds_need_no_data(kind: str) -> None:
    assert kind in KINDS
    assert entry(kind).data == {}


@pytest.mark.parametrize(
    ("kind", "data", "says"),
    [
        ("reached", {}, "stage"),
        ("reached", {"stage": "  "}, "stage"),
        ("tended", {}, "key"),
        ("overruled", {"flag": "too-cold"}, "reason"),
        ("dry-tested", {"stage": "dust free"}, "answer"),
        ("dry-tested", {"stage": "dust free", "answer": "damp"}, "dry, tacky or wet"),
        ("dry-tested", {"stage": "dust free", "answer": "wet"}, "when to look again"),
        ("dry-tested", {"stage": "dust free", "answer": "wet", "again_at": "2026-02-02T09:00"}, "time zone"),
        ("sized", {"size": "tenon"}, "actual"),
        ("sized", {"size": "tenon", "actual": "1/0"}, "divided by 0"),
        ("counted", {}, "how many"),
        ("counted", {"done": -1}, "how many"),
        ("counted", {"done": True}, "how many"),
        ("worked", {}, "how long"),
        ("worked", {"minutes": 0}, "how long"),
        ("worked", {"minutes": 1441}, "24 h"),
        ("worked", {"minutes": 60, "day": "Tuesday"}, "not a date"),
        ("done", {"minutes": 2.5}, "how long"),
    ],
)
def test_data_that_a_kind_cannot_do_without_is_asked_for(kind: str, data: dict[str, object], says: str) -> None:
    with pytest.raises(RecordError, match=says):
        entry(kind, **data)


def test_a_withdrawal_says_what_it_withdraws() -> None:
    with pytest.raises(RecordError, match="which entry"):
        Entry("a", NINE, NINE, "withdrawn")


def test_an_entry_cannot_correct_itself_and_needs_an_id() -> None:
    with pytest.raises(RecordError, match="itself"):
        Entry("a", NINE, NINE, "done", corrects="a")
    with pytest.raises(RecordError, match="id"):
        Entry("", NINE, NINE, "done")


def test_an_entry_does_not_change_with_the_mapping_it_was_made_from() -> None:
    given: dict[str, object] = {"done": 3}
    made = Entry("a", NINE, NINE, "counted", data=given)
    given["done"] = 4
    assert made.number("done") == 3
    assert hash(made) == hash(Entry("a", NINE, NINE, "counted", data={"done": 3}))
