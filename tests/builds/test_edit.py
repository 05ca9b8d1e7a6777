from datetime import date

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build
from webapp.shops.models import Shop


def test_a_piece_is_changed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, wood="oak", client="Mia")
    address = f"/builds/{build.id}/edit"
    sent = typed.version(owner, address)
    assert (sent["name"], sent["wood"], sent["client"], sent["weight"]) == ("Hall table", "oak", "Mia", "1")
    answer = owner.post(address, data={**sent, "wood": "ash", "due_on": "2026-03-01"})
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}")
    found = typed.stored(db, Build)[0]
    assert (found.wood, found.client, found.due_on, found.status) == ("ash", "Mia", date(2026, 3, 1), "in the making")
    assert "ash" in found.folded


def test_what_must_be_reached_before_the_hand_over_is_chosen(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    oil = factories.product(db, shop, "oil", stages=[{"name": "light use", "hours": 72}])
    factories.operation(db, build, "coat", product_id=oil.id)
    address = f"/builds/{build.id}/edit"
    owner.post(address, data={**typed.version(owner, address), "hand_over_1": "coat:light use"})
    assert typed.stored(db, Build)[0].done_at == [{"operation": "coat", "stage": "light use"}]
    assert typed.version(owner, address)["hand_over_1"] == "coat:light use"
    owner.post(address, data={**typed.version(owner, address), "hand_over_1": ""})
    assert typed.stored(db, Build)[0].done_at is None


def test_two_who_change_one_piece_lose_nothing(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: the second is told, sees both, and saves again if that is meant."""
    build = factories.build(db, shop, wood="oak")
    address = f"/builds/{build.id}/edit"
    phone, desk = typed.version(owner, address), typed.version(owner, address)
    assert owner.post(address, data={**phone, "wood": "ash"}).status_code == 303
    late = owner.post(address, data={**desk, "wood": "elm", "note": "for the hall"})
    assert late.status_code == 409
    assert "Wood ash elm" in typed.text(late)
    assert "Note nothing for the hall" in typed.text(late)
    assert "for the hall</textarea>" in late.text
    assert typed.stored(db, Build)[0].wood == "ash"
    again = {**desk, "wood": "elm", "note": "for the hall", "version": "2"}
    assert 'name="version" value="2"' in late.text
    assert owner.post(address, data=again).status_code == 303
    assert (typed.stored(db, Build)[0].wood, typed.stored(db, Build)[0].note) == ("elm", "for the hall")


def test_bad_input_comes_back_as_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    address = f"/builds/{build.id}/edit"
    answer = owner.post(address, data={**typed.version(owner, address), "name": "", "wood": "bog oak"})
    assert answer.status_code == 422
    assert 'value="bog oak"' in answer.text
    assert owner.post(address, data={**typed.version(owner, address), "weight": "6"}).status_code == 422


def test_only_an_owner_of_the_shop_may(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    for method in ("get", "post"):
        assert getattr(helper, method)(f"/builds/{build.id}/edit").status_code == 403
        assert getattr(stranger, method)(f"/builds/{build.id}/edit").status_code == 404
