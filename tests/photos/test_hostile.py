"""Files that would fill the memory, among good ones, with a note."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import jpeg, photos, send
from tests.web.test_images_refused import png_header
from webapp.shops.models import Shop
from webapp.web.files import Store


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("90 Mpx.png", png_header(10_000, 9_000), "60 million"),
        ("196 Mpx.png", png_header(14_000, 14_000), "60 million"),
        ("12 MB.jpg", b"only words\n" * 1_150_000, "text, not a photo"),
    ],
)
def test_a_bomb_is_named_and_its_neighbours_are_stored(
    owner: FlaskClient, db: Session, shop: Shop, store: Store, name: str, content: bytes, says: str
) -> None:
    """SA03: one clear message, the other photos are saved, the typed note is not lost."""
    where = f"builds/{factories.build(db, shop).id}"
    answer = send(owner, where, ("a.jpg", jpeg("green")), (name, content), ("b.jpg", jpeg("blue")), caption="Grain")
    assert answer.status_code == 422
    lines = [line for line in answer.text.splitlines() if f"<bdi>{name}</bdi>" in line]
    assert len(lines) == 1
    assert says in lines[0]
    assert "Grain</textarea>" in answer.text
    assert [(photo.sent_name, photo.caption) for photo in photos(db)] == [("a.jpg", "Grain"), ("b.jpg", "Grain")]
    assert len([kept for kept, _ in store.kept() if kept.endswith(".original")]) == 2
