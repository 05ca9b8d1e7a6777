"""One photo: what is said of it, where it belongs, and taking it out."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.photos import sending
from tests.photos.sending import jpeg, photos, send
from webapp.builds.models import Build, Operation
from webapp.journal.models import Entry
from webapp.photos.models import Photo
from webapp.planning.corrections import effective
from webapp.planning.entry import Entry as Line
from webapp.shops.models import Shop


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


@pytest.fixture
def mill(db: Session, build: Build) -> Operation:
    return factories.operation(db, build, "mill")


@pytest.fixture
def address(owner: FlaskClient, db: Session, mill: Operation) -> str:
    """A photo on the milling of the hall table."""
    send(owner, f"operations/{mill.id}", ("IMG_1.jpg", jpeg()), caption="Four faces flat")
    return f"/photos/{photos(db)[0].id}"


def line(db: Session) -> Line:
    """What the journal says of the photo after all corrections."""
    db.rollback()
    rows = db.scalars(select(Entry)).all()
    (found,) = effective(
        Line(e.id, e.at, e.arrived_at, e.kind, e.maker_id, e.operation_id, e.build_id, e.data, e.corrects) for e in rows
    )
    return found


@pytest.mark.parametrize("who", ["owner", "helper"])
def test_the_page_shows_it_large_with_what_is_known(who: str, request: pytest.FixtureRequest, address: str) -> None:
    page = request.getfixturevalue(who).get(address)
    assert page.status_code == 200
    assert f'src="{address}/large.webp?v=' in page.text
    assert 'width="300" height="400" alt="Four faces flat"' in page.text
    for words in ("Hall table", "Mill", "IMG_1.jpg", "300 × 400 pixels", "14:00", "by Ada"):
        assert words in page.text


@pytest.mark.parametrize("verb", ["", "/cover", "/removal", "/removal/delete"])
def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, address: str, verb: str) -> None:
    assert stranger.get(address).status_code == 404
    assert stranger.post(address + verb, data={"caption": "mine"}).status_code == 404
    (photo,) = photos(db)
    assert (photo.caption, photo.removed_at, photo.is_cover) == ("Four faces flat", None, False)


def typed(photo: Photo, **values: str) -> dict[str, str]:
    return {
        "caption": photo.caption,
        "operation": str(photo.operation_id or ""),
        "version": str(photo.version),
        **values,
    }


def test_another_caption_is_kept_and_found_in_the_journal(owner: FlaskClient, db: Session, address: str) -> None:
    answer = owner.post(address, data=typed(photos(db)[0], caption="Four faces flat, 1 1/16 in"))
    assert answer.status_code == 303
    assert photos(db)[0].caption == "Four faces flat, 1 1/16 in"
    assert line(db).data["note"] == "Four faces flat, 1 1/16 in"
    assert "1 1/16 in" in owner.get("/journal?q=1/16").text


def test_it_can_be_put_on_another_operation_or_on_none(
    owner: FlaskClient, db: Session, build: Build, mill: Operation, address: str
) -> None:
    groove = factories.operation(db, build, "groove")
    owner.post(address, data=typed(photos(db)[0], operation=str(groove.id)))
    assert photos(db)[0].operation_id == groove.id
    assert line(db).operation == groove.id
    owner.post(address, data=typed(photos(db)[0], operation=""))
    assert photos(db)[0].operation_id is None
    assert (line(db).operation, line(db).build) == (None, build.id)
    assert len(db.scalars(select(Entry)).all()) == 3


def test_it_cannot_be_put_where_the_same_photo_is(owner: FlaskClient, db: Session, build: Build, address: str) -> None:
    send(owner, f"builds/{build.id}", ("again.jpg", jpeg()))
    answer = owner.post(address, data=typed(photos(db)[0], operation="", caption="typed"))
    assert answer.status_code == 422
    assert "The same photo is there already." in answer.text
    assert "typed" in answer.text


def test_not_on_an_operation_of_another_build(owner: FlaskClient, db: Session, shop: Shop, address: str) -> None:
    other = factories.operation(db, factories.build(db, shop, "Stool"), "turn")
    answer = owner.post(address, data=typed(photos(db)[0], operation=str(other.id), caption="typed"))
    assert answer.status_code == 422
    assert "typed" in answer.text


def test_too_much_text_comes_back(owner: FlaskClient, db: Session, address: str) -> None:
    answer = owner.post(address, data=typed(photos(db)[0], caption="w" * 2001))
    assert answer.status_code == 422
    assert "w" * 2001 in answer.text


def test_two_who_change_it_both_keep_what_they_typed(
    owner: FlaskClient, helper: FlaskClient, db: Session, address: str
) -> None:
    """SA09: the second sees both, and may save over it."""
    before = typed(photos(db)[0])
    owner.post(address, data={**before, "caption": "Ada's words"})
    answer = helper.post(address, data={**before, "caption": "Ben's words"})
    assert answer.status_code == 409
    assert "Ada&#39;s words" in answer.text
    assert "Ben&#39;s words" in answer.text
    assert photos(db)[0].caption == "Ada's words"


def test_saved_without_a_change_writes_nothing(owner: FlaskClient, db: Session, address: str) -> None:
    assert owner.post(address, data=typed(photos(db)[0])).status_code == 303
    assert len(db.scalars(select(Entry)).all()) == 1


def test_one_picture_stands_for_the_build(owner: FlaskClient, db: Session, build: Build, address: str) -> None:
    send(owner, f"builds/{build.id}", ("b.jpg", jpeg("blue")), cover="y")
    owner.post(f"{address}/cover")
    assert [photo.is_cover for photo in photos(db)] == [True, False]
    assert "This is the picture of the build." in owner.get(address).text


def test_taken_out_it_is_in_no_list_and_can_be_put_back(
    owner: FlaskClient, db: Session, build: Build, address: str, clock: Clock
) -> None:
    owner.post(f"{address}/cover")
    clock.forward(hours=1)
    assert owner.post(f"{address}/removal").status_code == 303
    (photo,) = photos(db)
    assert (photo.removed_at, photo.is_cover) == (START + timedelta(hours=1), False)
    assert "small.webp" not in owner.get("/photos").text
    page = owner.get(f"/builds/{build.id}").text
    assert "small.webp" not in page
    assert "Photo taken out." in page
    assert line(db).data["photo"] == photo.id
    assert "Put it back" in owner.get(address).text
    owner.post(f"{address}/removal/delete")
    assert photos(db)[0].removed_at is None
    assert "small.webp" in owner.get("/photos").text


def test_one_leads_to_the_next_of_the_same_build(owner: FlaskClient, db: Session, shop: Shop, build: Build) -> None:
    first, second, third = (sending.photo(db, build, START + timedelta(hours=n)) for n in (0, 1, 1))
    sending.photo(db, build, START, removed_at=START)
    sending.photo(db, factories.build(db, shop, "Stool"), START)
    chain = [photo.id for photo in (first, second, third)]
    for number, key in enumerate(chain):
        page = owner.get(f"/photos/{key}").text
        assert ('rel="prev"' in page) == (number > 0)
        assert ('rel="next"' in page) == (number < 2)
        if number < 2:
            assert f'rel="next" href="/photos/{chain[number + 1]}"' in page
        if number:
            assert f'rel="prev" href="/photos/{chain[number - 1]}"' in page


def test_a_photo_of_the_shop_has_a_page_too(owner: FlaskClient, db: Session, build: Build) -> None:
    receipt = sending.photo(db, build, START, build_id=None)
    page = owner.get(f"/photos/{receipt.id}")
    assert page.status_code == 200
    assert "Make it the picture" not in page.text
    owner.post(f"/photos/{receipt.id}/cover")
    assert photos(db)[0].is_cover is False
