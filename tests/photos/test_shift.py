"""Asking about the camera's clock, and putting a whole batch right."""

from datetime import UTC, datetime, timedelta
from urllib.parse import urlsplit

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.photos.sending import jpeg, photos, send
from webapp.builds.models import Build
from webapp.journal.models import Entry
from webapp.shops.models import Shop

RESET = datetime(2018, 1, 1, 0, 3)  # noqa: DTZ001 - a camera's clock after its battery was out
LATER = datetime(2018, 1, 1, 1, 3)  # noqa: DTZ001
RESET_HERE = datetime(2018, 1, 1, 5, 3, tzinfo=UTC)  # in New York


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


@pytest.fixture
def asked(owner: FlaskClient, db: Session, build: Build, clock: Clock) -> str:
    """Two photos of a camera with a wrong clock, sent just now; the address they led to."""
    answer = send(owner, f"builds/{build.id}", ("a.jpg", jpeg("green", RESET)), ("b.jpg", jpeg("blue", LATER)))
    clock.forward(minutes=5)
    return str(answer.location)


def ids(db: Session) -> str:
    return ",".join(str(photo.id) for photo in photos(db))


def test_after_sending_it_asks_once_for_all(owner: FlaskClient, db: Session, asked: str) -> None:
    """SA02: (a) kept with the camera's time, placed where it was sent, with a question."""
    assert urlsplit(asked).path == "/photos/shift"
    page = owner.get(asked).text
    assert "The camera says" in page
    assert "Mon 1 Jan 2018, 00:03" in page
    assert "Use the camera’s time" in page
    assert [(photo.at, photo.asks_time) for photo in photos(db)] == [(START, True), (START, True)]
    assert [photo.taken_at for photo in photos(db)] == [RESET_HERE, RESET_HERE + timedelta(hours=1)]
    assert "The camera says" in owner.get(f"/photos/{photos(db)[0].id}").text


def test_one_with_a_good_clock_is_not_asked_about(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA02: (b) the clock is read in the zone of the shop."""
    answer = send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    assert "/photos/shift" not in answer.location
    (photo,) = photos(db)
    assert photo.at == photo.taken_at == START - timedelta(minutes=18)
    send(owner, f"builds/{build.id}", ("b.jpg", jpeg("blue", offset="-04:00")))
    assert photos(db)[1].at == START - timedelta(hours=1, minutes=18)


def test_the_cameras_time_can_be_used(owner: FlaskClient, db: Session, asked: str) -> None:
    """SA02: (a) the answer yes moves the line in the journal as well; the first line stays."""
    answer = owner.post("/photos/shift", data={"ids": ids(db), "answer": "camera"})
    assert answer.status_code == 303
    assert answer.location.endswith("#photos")
    assert [(photo.at, photo.asks_time) for photo in photos(db)] == [
        (RESET_HERE, False),
        (RESET_HERE + timedelta(hours=1), False),
    ]
    entries = db.scalars(select(Entry).order_by(Entry.id)).all()
    assert len(entries) == 4
    corrections = [entry for entry in entries if entry.corrects]
    assert {entry.corrects for entry in corrections} == {f"photo-{photo.id}" for photo in photos(db)}
    assert sorted(entry.at for entry in corrections) == [RESET_HERE, RESET_HERE + timedelta(hours=1)]


def test_or_left_as_it_is(owner: FlaskClient, db: Session, asked: str) -> None:
    """SA02: (a) the answer no is kept; the camera's time stays beside it."""
    owner.post("/photos/shift", data={"ids": ids(db), "answer": "sent"})
    assert [(photo.at, photo.asks_time) for photo in photos(db)] == [(START, False), (START, False)]
    page = owner.get(f"/photos/{photos(db)[0].id}").text
    assert "Use the camera’s time" not in page
    assert "Mon 1 Jan 2018, 00:03" in page


def test_a_batch_is_moved_by_when_the_first_was_really_taken(owner: FlaskClient, db: Session, asked: str) -> None:
    """SA02: (a) a shift for the whole batch; sent twice it is the same."""
    for _ in range(2):
        answer = owner.post("/photos/shift", data={"ids": ids(db), "first": "2026-02-02T10:00"})
        assert answer.status_code == 303
        first = datetime(2026, 2, 2, 15, 0, tzinfo=UTC)
        assert [photo.at for photo in photos(db)] == [first, first + timedelta(hours=1)]
    assert len(db.scalars(select(Entry)).all()) == 4


def test_a_batch_is_moved_by_hours(owner: FlaskClient, db: Session, asked: str) -> None:
    """SA02: (a) forward and back."""
    owner.post("/photos/shift", data={"ids": ids(db), "hours": "-1,5"})
    assert photos(db)[0].at == RESET_HERE - timedelta(hours=1.5)
    owner.post("/photos/shift", data={"ids": ids(db), "hours": "+70000 h"})
    assert photos(db)[0].at == RESET_HERE + timedelta(hours=70_000)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({}, "Give one of the two."),
        ({"hours": "1", "first": "2026-02-02T10:00"}, "Give one of the two."),
        ({"hours": "soon"}, "soon"),
        ({"hours": "600000"}, "At most 60 years."),
        ({"hours": "80000"}, "That would put a photo into the future."),
        ({"hours": "-400000"}, "That would put a photo before 2000."),
        ({"first": "2026-02-30T10:00"}, "2026-02-30"),
    ],
)
def test_what_cannot_be_comes_back(
    owner: FlaskClient, db: Session, asked: str, typed: dict[str, str], says: str
) -> None:
    answer = owner.post("/photos/shift", data={"ids": ids(db), **typed})
    assert answer.status_code == 422
    assert says in answer.text
    assert [photo.at for photo in photos(db)] == [START, START]


def test_a_camera_ahead_of_us_is_not_offered(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA02: (a) a time still to come cannot be used."""
    ahead = datetime(2099, 9, 29, 10, 10)  # noqa: DTZ001
    page = owner.get(send(owner, f"builds/{build.id}", ("a.jpg", jpeg("red", ahead))).location).text
    assert "Use the camera’s time" not in page
    answer = owner.post("/photos/shift", data={"ids": ids(db), "answer": "camera"})
    assert answer.status_code == 422
    assert photos(db)[0].at == START


def test_only_photos_of_this_shop(owner: FlaskClient, stranger: FlaskClient, db: Session, asked: str) -> None:
    assert stranger.get(asked).status_code == 404
    assert stranger.post("/photos/shift", data={"ids": ids(db), "answer": "camera"}).status_code == 404
    for wrong in ("", "?ids=", "?ids=x", "?ids=99999", "?ids=" + "9" * 40, "?ids=" + ",".join(map(str, range(501)))):
        assert owner.get(f"/photos/shift{wrong}").status_code == 404
    assert all(photo.asks_time for photo in photos(db))


def test_some_can_be_ticked_on_the_page_of_all(owner: FlaskClient, db: Session, build: Build, asked: str) -> None:
    page = owner.get(f"/photos?build={build.id}&pick=").text
    for photo in photos(db):
        assert f'name="ids" value="{photo.id}"' in page
    first, second = photos(db)
    page = owner.get(f"/photos/shift?ids={first.id}&ids={second.id}").text
    assert "All 2 are moved together" in page
