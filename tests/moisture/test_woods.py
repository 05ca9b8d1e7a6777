"""Woods with figures from a source of one's own: /moisture/woods."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.moisture.typed import rows
from webapp.moisture.models import OwnWood
from webapp.shops.models import Shop

TEAK = {"name": "teak", "radial": "0.00101", "tangential": "0.00186", "source": "the yard's sheet"}


def test_it_is_added_once_and_taken_away(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap adds one wood."""
    for _ in range(2):
        assert owner.post("/moisture/woods", data=TEAK | {"once": "k"}).status_code == 303
    (row,) = rows(db, OwnWood)
    assert "0.00101 quarter-sawn, 0.00186 flat-sawn" in owner.get("/moisture/woods").text
    again = owner.post("/moisture/woods", data=TEAK)
    assert (again.status_code, "in the list already" in again.text) == (422, True)
    assert owner.post(f"/moisture/woods/{row.id}/delete").status_code == 303
    assert rows(db, OwnWood) == []


def test_what_cannot_be_a_share_is_said_and_kept(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for typed, says in (("0.186", "0.00248, not 0.248 %"), ("some", "is not a number"), ("", "Please fill this in.")):
        answer = owner.post("/moisture/woods", data=TEAK | {"tangential": typed})
        assert (answer.status_code, says in answer.text, f'value="{typed}"' in answer.text) == (422, True, True)
    assert rows(db, OwnWood) == []


def test_only_an_owner_types_figures(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    row = OwnWood(shop_id=shop.id, **TEAK)
    db.add(row)
    db.commit()
    assert (helper.get("/moisture/woods").status_code, helper.post("/moisture/woods").status_code) == (403, 403)
    assert helper.post(f"/moisture/woods/{row.id}/delete").status_code == 403
    assert stranger.post(f"/moisture/woods/{row.id}/delete").status_code == 404
