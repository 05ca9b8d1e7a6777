from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build
from webapp.shops.models import Shop


def test_a_piece_moves_on(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, status="agreed")
    answer = owner.post(f"/builds/{build.id}/status", data={"status": "in the making"})
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}")
    assert typed.stored(db, Build)[0].status == "in the making"


def test_a_delivery_asks_for_its_day(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/status", data={"status": "delivered"})
    assert answer.status_code == 422
    assert "On which day was it delivered?" in answer.text
    assert '<option selected value="delivered">' in answer.text
    assert typed.stored(db, Build)[0].status == "in the making"
    owner.post(f"/builds/{build.id}/status", data={"status": "delivered", "delivered_on": "2026-02-02"})
    found = typed.stored(db, Build)[0]
    assert (found.status, found.delivered_on) == ("delivered", date(2026, 2, 2))
    assert "Delivered Mon 2" in typed.text(owner.get(f"/builds/{build.id}"))


def test_the_day_of_delivery_outlives_aftercare_and_goes_when_it_was_a_mistake(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop, status="delivered", delivered_on=date(2026, 1, 9))
    owner.post(f"/builds/{build.id}/status", data={"status": "aftercare"})
    assert typed.stored(db, Build)[0].delivered_on == date(2026, 1, 9)
    owner.post(f"/builds/{build.id}/status", data={"status": "in the making", "delivered_on": "2026-01-09"})
    assert typed.stored(db, Build)[0].delivered_on is None


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"status": "burnt"}, "Please choose one of these."),
        ({"status": "delivered", "delivered_on": "2026-02-04"}, "That day is still to come."),
        ({"status": "delivered", "delivered_on": "yesterday"}, "Type a day like 2026-02-03."),
    ],
)
def test_what_cannot_be_is_refused(
    owner: FlaskClient, db: Session, shop: Shop, sent: dict[str, str], says: str
) -> None:
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/status", data=sent)
    assert answer.status_code == 422
    assert says in answer.text


def test_only_an_owner_of_the_shop_says_so(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert helper.post(f"/builds/{build.id}/status", data={"status": "lost"}).status_code == 403
    assert stranger.post(f"/builds/{build.id}/status", data={"status": "lost"}).status_code == 404
    assert typed.stored(db, Build)[0].status == "in the making"
