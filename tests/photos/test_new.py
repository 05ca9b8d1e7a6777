"""Sending photos, many at once."""

from io import BytesIO

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
from webapp.web.files import Store


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def files(store: Store) -> list[str]:
    return sorted(name for name, _ in store.kept())


@pytest.mark.parametrize("who", ["owner", "helper"])
def test_three_at_once_are_stored_with_one_caption(
    who: str, request: pytest.FixtureRequest, db: Session, build: Build, store: Store
) -> None:
    client = request.getfixturevalue(who)
    page = client.get(f"/builds/{build.id}/photos/new")
    assert 'accept="image/jpeg,image/png,image/webp"' in page.text
    assert " multiple" in page.text
    three = [(f"IMG_{n}.jpg", jpeg(colour)) for n, colour in enumerate(("brown", "green", "blue"))]
    answer = send(client, f"builds/{build.id}", *three, caption="Boards as they came")
    assert answer.status_code == 303
    assert answer.location.endswith(f"/builds/{build.id}#photos")
    found = photos(db)
    assert [photo.sent_name for photo in found] == ["IMG_0.jpg", "IMG_1.jpg", "IMG_2.jpg"]
    assert {photo.caption for photo in found} == {"Boards as they came"}
    assert {(photo.width, photo.height) for photo in found} == {(300, 400)}
    assert {photo.build_id for photo in found} == {build.id}
    assert len(files(store)) == 9


def test_each_has_a_line_in_the_journal(owner: FlaskClient, db: Session, build: Build) -> None:
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()), caption="Kerfs")
    photo = photos(db)[0]
    entry = db.scalars(select(Entry)).one()
    assert entry.id == f"photo-{photo.id}"
    assert (entry.kind, entry.build_id, entry.operation_id) == ("photographed", build.id, None)
    assert entry.data == {"photo": photo.id, "note": "Kerfs"}
    assert entry.at == photo.at
    assert entry.arrived_at == START


def test_a_photo_on_an_operation_belongs_to_its_build_too(owner: FlaskClient, db: Session, build: Build) -> None:
    operation = factories.operation(db, build, "glue-up")
    assert "Glue-up" in owner.get(f"/operations/{operation.id}/photos/new").text
    send(owner, f"operations/{operation.id}", ("a.jpg", jpeg()))
    photo = photos(db)[0]
    assert (photo.operation_id, photo.build_id) == (operation.id, build.id)
    assert db.scalars(select(Entry)).one().operation_id == operation.id


def test_the_first_one_can_be_the_picture_of_the_build(owner: FlaskClient, db: Session, build: Build) -> None:
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg("green")), cover="y")
    send(owner, f"builds/{build.id}", ("b.jpg", jpeg("blue")), ("c.jpg", jpeg("red")), cover="y")
    assert [photo.is_cover for photo in photos(db)] == [False, True, False]


@pytest.mark.parametrize("where", ["builds", "operations"])
def test_a_stranger_finds_nothing_and_leaves_nothing(
    where: str, stranger: FlaskClient, nobody: FlaskClient, db: Session, build: Build, store: Store
) -> None:
    key = build.id if where == "builds" else factories.operation(db, build).id
    assert stranger.get(f"/{where}/{key}/photos/new").status_code == 404
    assert send(stranger, f"{where}/{key}", ("a.jpg", jpeg())).status_code == 404
    assert send(nobody, f"{where}/{key}", ("a.jpg", jpeg())).status_code == 401
    assert send(stranger, f"{where}/999999", ("a.jpg", jpeg())).status_code == 404
    assert photos(db) == []
    assert files(store) == []


def test_without_a_photo_the_note_comes_back(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA03: a typed note is not lost."""
    answer = owner.post(f"/builds/{build.id}/photos/new", data={"caption": "Crack at the end of board 3"})
    assert answer.status_code == 422
    assert "Choose at least one photo." in answer.text
    assert "Crack at the end of board 3" in answer.text


def test_a_file_for_the_note_is_no_note(owner: FlaskClient, db: Session, build: Build) -> None:
    data = {"caption": (BytesIO(jpeg()), "a.jpg"), "cover": (BytesIO(b"y"), "y"), "photos": (BytesIO(jpeg()), "b.jpg")}
    assert owner.post(f"/builds/{build.id}/photos/new", data=data).status_code == 303
    (photo,) = photos(db)
    assert (photo.sent_name, photo.caption, photo.is_cover) == ("b.jpg", "", False)


def test_sent_twice_is_stored_once(owner: FlaskClient, db: Session, build: Build, clock: Clock) -> None:
    """SA15: the answer was lost, the phone sends again; the same photo in one sending counts once as well."""
    two = [("a.jpg", jpeg("green")), ("b.jpg", jpeg("blue")), ("copy of a.jpg", jpeg("green"))]
    first = send(owner, f"builds/{build.id}", *two, caption="Boards")
    clock.forward(minutes=3)
    again = send(owner, f"builds/{build.id}", *two, caption="Boards")
    assert (again.status_code, again.location) == (first.status_code, first.location)
    assert [photo.sent_name for photo in photos(db)] == ["a.jpg", "b.jpg"]
    assert len(db.scalars(select(Entry)).all()) == 2


def test_the_same_photo_may_stand_on_two_operations(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA15: sent once to each place is no repetition."""
    for operation in (factories.operation(db, build, "mill"), factories.operation(db, build, "groove")):
        for _ in range(2):
            send(owner, f"operations/{operation.id}", ("a.jpg", jpeg()))
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    assert len(photos(db)) == 3


def test_one_that_was_taken_out_comes_back_when_it_is_sent_again(owner: FlaskClient, db: Session, build: Build) -> None:
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    owner.post(f"/photos/{photos(db)[0].id}/removal")
    assert photos(db)[0].removed_at is not None
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    assert [photo.removed_at for photo in photos(db)] == [None]


def test_a_script_that_sends_one_by_one_is_told_what_became_of_each(
    owner: FlaskClient, db: Session, build: Build
) -> None:
    good = send(owner, f"builds/{build.id}", ("a.jpg", jpeg()), json=True)
    assert good.json == {
        "stored": 1,
        "refused": [],
        "asking": [],
        "problems": [],
        "location": f"/builds/{build.id}#photos",
    }
    bad = send(owner, f"builds/{build.id}", ("b.jpg", b""), json=True)
    assert bad.json is not None
    assert (bad.status_code, bad.json["stored"], bad.json["refused"][0]["name"]) == (200, 0, "b.jpg")
    none = send(owner, f"builds/{build.id}", json=True)
    assert none.json is not None
    assert none.json["problems"] == ["Choose at least one photo."]
