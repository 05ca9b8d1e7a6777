from datetime import UTC, datetime
from decimal import Decimal

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation, Part
from webapp.shops.models import Shop
from webapp.stock.models import Material


def test_a_piece_is_deleted_by_typing_its_name(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    factories.operation(db, build, "glue", after=[mill], over_id=mill.id)
    db.add(Part(shop_id=shop.id, build_id=build.id, position=1, name="Leg"))
    db.commit()
    assert "Its 2 operations and 1 part go with it" in typed.text(owner.get(f"/builds/{build.id}/delete"))
    answer = owner.post(f"/builds/{build.id}/delete", data={"name": " Hall  table "})
    assert (answer.status_code, answer.location) == (303, "/builds")
    assert not typed.stored(db, Build)
    assert not typed.stored(db, Operation)
    assert not typed.stored(db, Part)


def test_another_name_deletes_nothing(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    for name in ("", "hall table", "Hall"):
        answer = owner.post(f"/builds/{build.id}/delete", data={"name": name})
        assert answer.status_code == 422
    assert "That is not its name. Nothing was deleted." in answer.text
    assert typed.stored(db, Build)


def test_a_piece_with_a_record_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build, other = factories.build(db, shop), factories.build(db, shop, "Chest")
    ada = factories.maker(db, shop, "Ada")
    factories.entry(db, ada, "noted", datetime(2026, 2, 1, tzinfo=UTC), on=build)
    bought = {"kind": "wood", "name": "oak", "unit": "bd ft", "quantity": Decimal(1), "unit_price": Decimal(1)}
    db.add(Material(shop_id=shop.id, build_id=other.id, total_minor=100, **bought))
    db.commit()
    for one in (build, other):
        assert "It stays." in owner.get(f"/builds/{one.id}/delete").text
        answer = owner.post(f"/builds/{one.id}/delete", data={"name": one.name})
        assert answer.status_code == 409
        assert "closed or lost" in answer.text
    assert len(typed.stored(db, Build)) == 2


def test_only_an_owner_of_the_shop_may(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert helper.get(f"/builds/{build.id}/delete").status_code == 403
    assert helper.post(f"/builds/{build.id}/delete", data={"name": "Hall table"}).status_code == 403
    assert stranger.get(f"/builds/{build.id}/delete").status_code == 404
    assert stranger.post(f"/builds/{build.id}/delete", data={"name": "Hall table"}).status_code == 404
    assert typed.stored(db, Build)
