"""The photo of a receipt beside its line."""

from io import BytesIO

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from tests.photos.sending import jpeg
from tests.stock.typed import line, material
from webapp.photos.models import Photo
from webapp.shops.models import Shop
from webapp.stock.models import Material


def send(client: FlaskClient, address: str, content: bytes, **values: str) -> TestResponse:
    data = {**line(**values), "receipt": (BytesIO(content), "bill.jpg")}
    return client.post(address, data=data, content_type="multipart/form-data")


def lines(db: Session) -> list[Material]:
    db.rollback()  # a new look
    return list(db.scalars(select(Material).order_by(Material.id)))


def test_a_receipt_is_kept_with_its_line_and_not_among_the_pieces_photos(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop)
    answer = send(owner, f"/builds/{build.id}/materials/new", jpeg(), build=str(build.id))
    assert answer.status_code == 303
    photo = lines(db)[0].receipt
    assert photo is not None
    assert (photo.build_id, photo.caption) == (None, "Receipt: White oak 8/4")
    assert f'<a href="/photos/{photo.id}">receipt</a>' in owner.get("/stock").text
    assert f'href="/photos/{photo.id}"' in owner.get(f"/stock/{lines(db)[0].id}/edit").text


def test_one_receipt_serves_two_lines(owner: FlaskClient, db: Session) -> None:
    send(owner, "/stock/new", jpeg())
    send(owner, "/stock/new", jpeg(), name="Hinges", kind="hardware")
    assert len({row.receipt_id for row in lines(db)}) == 1
    assert len(db.scalars(select(Photo)).all()) == 1


def test_a_broken_file_is_refused_and_what_was_typed_stays(owner: FlaskClient, db: Session) -> None:
    answer = send(owner, "/stock/new", b"no picture at all", note="keep me")
    assert answer.status_code == 422
    assert 'id="receipt-wrong"' in answer.text
    assert "keep me" in answer.text
    assert lines(db) == []


def test_a_form_that_comes_back_asks_for_the_photo_again(owner: FlaskClient, db: Session) -> None:
    answer = send(owner, "/stock/new", jpeg(), quantity="a few")
    assert answer.status_code == 422
    assert "choose the photo again" in answer.text


def test_another_receipt_takes_the_place_of_the_first(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    send(owner, f"/stock/{found.id}/edit", jpeg(), version="1")
    first = lines(db)[0].receipt_id
    send(owner, f"/stock/{found.id}/edit", jpeg("green"), version=str(lines(db)[0].version))
    assert lines(db)[0].receipt_id not in {None, first}


def test_saved_without_a_file_the_receipt_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    send(owner, f"/stock/{found.id}/edit", jpeg(), version="1")
    owner.post(f"/stock/{found.id}/edit", data=line(version=str(lines(db)[0].version), quantity="3"))
    assert lines(db)[0].receipt_id is not None


def test_a_stranger_leaves_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build, found = factories.build(db, shop), material(db, shop)
    assert send(stranger, f"/builds/{build.id}/materials/new", jpeg()).status_code == 404
    assert send(stranger, f"/stock/{found.id}/edit", jpeg(), version="1").status_code == 404
    assert db.scalars(select(Photo)).all() == []
