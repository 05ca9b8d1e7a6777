from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from tests.sizes.test_index import a_size, stored
from webapp.journal.models import Entry
from webapp.shops.models import Shop


def lines(db: Session) -> list[Entry]:
    db.rollback()
    return db.query(Entry).filter(Entry.kind == "sized").all()


def test_what_a_size_measures_is_one_line_however_often_it_is_sent(
    helper: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop)
    a_size(helper, build, tolerance="1/32")
    size = stored(db)[0]
    page = helper.get(f"/sizes/{size.id}/measured")
    assert "It should be 36 in, give or take 1/32 in." in typed.text(page)
    for _ in range(2):
        sent = {"actual": "36 1/16", "id": "m-1", "note": "at the back"}
        assert helper.post(f"/sizes/{size.id}/measured", data=sent).status_code == 303
    told = {"size": "top-width", "name": "Top, width", "actual": "36 1/16 in", "note": "at the back"}
    assert [(one.build_id, one.data) for one in lines(db)] == [(build.id, told)]


def test_what_is_no_length_is_said_beside_the_field(helper: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: what was typed stays."""
    a_size(helper, factories.build(db, shop))
    size = stored(db)[0]
    answer = helper.post(f"/sizes/{size.id}/measured", data={"actual": "3/4 x 2", "id": "m-1", "note": "odd"})
    assert answer.status_code == 422
    assert "more than one size" in typed.text(answer)
    assert 'value="3/4 x 2"' in answer.text
    assert 'value="odd"' in answer.text
    assert not lines(db)
