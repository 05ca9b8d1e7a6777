"""The pixels as they are served."""

from io import BytesIO

import pytest
from flask.testing import FlaskClient
from PIL import Image
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import jpeg, photos, send
from webapp.photos.models import Photo
from webapp.shops.models import Shop
from webapp.web.files import Store


@pytest.fixture
def photo(owner: FlaskClient, db: Session, shop: Shop) -> Photo:
    send(owner, f"builds/{factories.build(db, shop).id}", ("a.jpg", jpeg(comment=b"SECRET")))
    return photos(db)[0]


@pytest.mark.parametrize(("size", "pixels"), [("small", (240, 320)), ("large", (300, 400))])
def test_both_sizes_are_served_upright_and_clean(
    owner: FlaskClient, helper: FlaskClient, photo: Photo, size: str, pixels: tuple[int, int]
) -> None:
    """SA02: (c) no position leaves the shop."""
    for client in (owner, helper):
        answer = client.get(f"/photos/{photo.id}/{size}.webp")
        assert answer.content_type == "image/webp"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert not any(word in answer.data for word in (b"SECRET", b"Exif", b"EXIF", b"CAMERA-MAKER"))
        found = Image.open(BytesIO(answer.data))
        assert found.size == pixels
        assert dict(found.getexif()) == {}


def test_its_own_address_is_kept_for_ever_by_this_browser_only(owner: FlaskClient, photo: Photo) -> None:
    address = f"/photos/{photo.id}/small.webp"
    own = owner.get(f"{address}?v={photo.mark}")
    assert own.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert "Set-Cookie" not in own.headers
    assert "Vary" not in own.headers
    assert owner.get(address).headers["Cache-Control"] == "private, no-cache"
    assert owner.get(f"{address}?v=somethingelse").headers["Cache-Control"] == "private, no-cache"
    assert owner.get(address, headers={"If-None-Match": own.headers["ETag"]}).status_code == 304
    assert f"{address}?v={photo.mark}" in owner.get("/photos").text


def test_nobody_else_sees_it(stranger: FlaskClient, nobody: FlaskClient, photo: Photo) -> None:
    """SA02: (c) not even whether it exists."""
    for size in ("small", "large"):
        assert stranger.get(f"/photos/{photo.id}/{size}.webp?v={photo.mark}").status_code == 404
        assert nobody.get(f"/photos/{photo.id}/{size}.webp").status_code == 303


def test_what_was_sent_is_kept_and_has_no_address(owner: FlaskClient, photo: Photo, store: Store) -> None:
    """SA02: (c) the original holds the position, so it is never served."""
    with store.open(f"{photo.sha256}.original") as kept:
        assert kept.read() == jpeg(comment=b"SECRET")
    for name in ("original", "original.webp", "original.jpg", "huge.webp", f"{photo.sha256}.original"):
        assert owner.get(f"/photos/{photo.id}/{name}").status_code == 404


def test_a_file_that_is_gone_is_nothing_here(owner: FlaskClient, photo: Photo, store: Store) -> None:
    store.delete(f"{photo.sha256}.small.webp")
    assert owner.get(f"/photos/{photo.id}/small.webp").status_code == 404
