"""Two sendings of the same photo at the same moment."""

from concurrent.futures import ThreadPoolExecutor

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import jpeg, photos, send
from webapp.journal.models import Entry
from webapp.shops.models import Shop


def test_the_same_photo_from_two_phones_at_once_is_stored_once(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop
) -> None:
    """SA15: a photo without operation too, of which the database by itself would hold any number."""
    where = f"builds/{factories.build(db, shop).id}"
    db.rollback()
    for colour in ("green", "blue", "red"):
        same = ("a.jpg", jpeg(colour))
        with ThreadPoolExecutor(2) as threads:
            answers = list(
                threads.map(lambda client, same=same: send(client, where, same).status_code, [owner, helper])
            )
        assert answers == [303, 303]
    assert len(photos(db)) == 3
    assert len(db.scalars(select(Entry)).all()) == 3
