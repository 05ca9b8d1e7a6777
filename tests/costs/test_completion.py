"""The last part of a price, and a client who cannot take the piece yet."""

from datetime import date

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import parts_of, terms
from tests.costs.test_payments import four
from webapp.shops.models import Shop


def test_the_last_part_falls_due_when_it_is_finished_not_when_it_is_fetched(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    """TA20: done on 2 Jan, fetched a month later; completion is what the part says, and it is paid before delivery."""
    build = factories.build(db, shop)
    terms(db, build, 733333)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    last = parts_of(db, build)[-1]
    assert (last.name, last.amount_minor) == ("completion", 183334)
    assert owner.post(f"/payments/{last.id}/paid", data={"paid_on": "2026-01-05"}).status_code == 303
    db.rollback()
    before = [(part.name, part.amount_minor, part.paid_on) for part in parts_of(db, build)]
    build.status, build.delivered_on = "delivered", date(2026, 2, 2)
    db.commit()
    assert [(part.name, part.amount_minor, part.paid_on) for part in parts_of(db, build)] == before
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "$1,833.34 of $7,333.33 came in" in page
