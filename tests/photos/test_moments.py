"""When a photo was taken, by a camera that may be wrong."""

from datetime import UTC, datetime, timedelta

import pytest

from webapp.photos.models import Photo
from webapp.photos.moments import MomentError, placed, shifted

NOW = datetime(2026, 3, 14, 15, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("taken", "at", "asks"),
    [
        (None, NOW, False),
        (NOW - timedelta(hours=2), NOW - timedelta(hours=2), False),
        (NOW - timedelta(days=30), NOW - timedelta(days=30), False),
        (NOW - timedelta(days=30, seconds=1), NOW, True),
        (datetime(2018, 1, 1, 0, 3, tzinfo=UTC), NOW, True),
        (datetime(1980, 1, 1, tzinfo=UTC), NOW, True),
        (NOW + timedelta(hours=23), NOW, False),
        (NOW + timedelta(days=1, seconds=1), NOW, True),
        (datetime(2099, 9, 29, 10, 10, 10, tzinfo=UTC), NOW, True),
    ],
)
def test_where_a_photo_stands(taken: datetime | None, at: datetime, asks: bool) -> None:
    """SA02: (a) a clock that cannot be right is kept, asked about, and not followed."""
    assert placed(taken, NOW) == (at, asks)


def batch() -> list[Photo]:
    times = [datetime(2018, 1, 1, 0, 3, tzinfo=UTC), datetime(2018, 1, 1, 2, 13, tzinfo=UTC)]
    return [*(Photo(taken_at=taken, at=NOW) for taken in times), Photo(taken_at=None, at=NOW - timedelta(hours=3))]


def test_a_batch_moves_by_as_much() -> None:
    """SA02: (a) the time between two photos stays; one without a camera's time moves from where it stands."""
    assert shifted(batch(), timedelta(hours=-1.5), NOW) == [
        datetime(2017, 12, 31, 22, 33, tzinfo=UTC),
        datetime(2018, 1, 1, 0, 43, tzinfo=UTC),
        datetime(2026, 3, 14, 10, 30, tzinfo=UTC),
    ]


@pytest.mark.parametrize(
    ("span", "says"),
    [
        (timedelta(hours=4), "future"),
        (timedelta(days=-7000), "before 2000"),
        (timedelta(days=900_000_000), "too far"),
    ],
)
def test_a_batch_does_not_move_out_of_reach(span: timedelta, says: str) -> None:
    with pytest.raises(MomentError, match=says):
        shifted(batch(), span, NOW)
