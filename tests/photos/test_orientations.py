"""A photo as the phone was held: upright wherever the app shows it."""

from io import BytesIO

import pytest
from flask.testing import FlaskClient
from PIL import Image, ImageChops, ImageStat
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import photos, send
from tests.pictures import phone_exif, scene, sent
from webapp.shops.models import Shop
from webapp.web import images

# Exif 2.32, tag 274: what a camera held that way stores of an upright picture
STORED = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


def difference(one: Image.Image, other: Image.Image) -> float:
    assert one.size == other.size
    return float(sum(ImageStat.Stat(ImageChops.difference(one, other)).mean) / 3)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_sideways_photo_is_served_upright_in_both_sizes(
    owner: FlaskClient, db: Session, shop: Shop, orientation: int
) -> None:
    """SA01: 300 by 400 everywhere, the thumbnail too, and no tag by which a browser would turn it once more."""
    upright, turn = scene(300, 400), STORED[orientation]
    pixels = upright if turn is None else upright.transpose(turn)
    content = sent(pixels, exif=phone_exif(orientation)).getvalue()
    build = factories.build(db, shop)
    assert send(owner, f"builds/{build.id}", ("a.jpg", content)).status_code == 303
    (photo,) = photos(db)
    assert (photo.width, photo.height) == (300, 400)
    for size, expected in (("small", (240, 320)), ("large", (300, 400))):
        served = Image.open(BytesIO(owner.get(f"/photos/{photo.id}/{size}.webp").data))
        assert served.size == expected
        assert images.ORIENTATION not in served.getexif()
        assert difference(served.convert("RGB"), upright.resize(expected)) < 4
    assert 'width="300" height="400"' in owner.get(f"/photos/{photo.id}").text
