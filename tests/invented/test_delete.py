"""Removing the invented shop: POST /invented/delete."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, inspect, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.db.base import Base
from webapp.people.models import Person
from webapp.photos.models import Photo
from webapp.shops.models import Shop
from webapp.tables import metadata
from webapp.web.files import Store

KEPT = {"mark", "person", "sign_in", "login_try", "backup"}


def count_rows(db: Session) -> dict[str, int]:
    return {table.name: db.scalar(select(func.count()).select_from(table)) or 0 for table in metadata.sorted_tables}


def stored(store: Store) -> list[str]:
    return [name for name, _ in store.kept()]


def test_it_leaves_no_row_and_no_file(
    pictures: int, looker: FlaskClient, invented: Shop, db: Session, store: Store
) -> None:
    assert len(stored(store)) == 3 * pictures  # each as sent, small and large
    before = count_rows(db)
    assert all(before[name] for name in ("build", "operation", "link", "hold", "entry", "photo", "material", "rate"))
    assert all(before[name] for name in ("reading", "tin", "meter", "house", "leeway", "size", "watch", "look"))
    assert all(before[f"{of}_moisture"] for of in ("stock", "material", "part"))
    db.rollback()
    answer = looker.post("/invented/delete")
    assert answer.status_code == 303
    assert answer.location == "/start"
    left = {name: count for name, count in count_rows(db).items() if count and name not in KEPT}
    assert left == {}
    assert stored(store) == []


def test_the_account_stays_and_may_start_its_own(looker: FlaskClient, invented: Shop, db: Session) -> None:
    looker.post("/invented/delete")
    page = looker.get("/start")
    assert page.status_code == 200
    assert "Start my own shop" in page.get_data(as_text=True)
    assert db.scalar(select(func.count()).select_from(Person)) == 1


def test_nothing_in_the_tables_is_forgotten() -> None:
    """A table that a later room adds must go with its shop: by a key of its own, or by what it belongs to."""
    loose = []
    for mapper in Base.registry.mappers:
        table = mapper.local_table
        targets = {key.column.table.name for column in inspect(mapper).columns for key in column.foreign_keys}
        if table.name not in KEPT | {"shop"} and not targets & {"shop", "build", "operation", "product", "maker"}:
            loose.append(table.name)
    assert loose == []


def test_another_shop_is_left_alone(
    pictures: int, looker: FlaskClient, invented: Shop, app: Flask, db: Session, store: Store, clock: Clock
) -> None:
    other = factories.shop(db, "Elsewhere")
    maker = factories.maker(db, other, "Cleo")
    build = factories.build(db, other, "Sideboard")
    mill = factories.operation(db, build, "mill")
    factories.entry(db, maker, "started", clock(), on=mill)
    shared = db.scalars(select(Photo).order_by(Photo.id)).first()
    assert shared is not None
    sha256 = shared.sha256
    same = {"sha256": sha256, "sent_name": "a.jpg", "width": 1120, "height": 840, "at": clock()}
    db.add(Photo(shop_id=other.id, build_id=build.id, **same))
    db.commit()
    looker.post("/invented/delete")
    after = count_rows(db)
    assert (after["shop"], after["build"], after["operation"], after["entry"], after["photo"]) == (1, 1, 1, 1, 1)
    assert {name.split(".")[0] for name in stored(store)} == {sha256}


def test_a_real_shop_cannot_be_removed_so(owner: FlaskClient, shop: Shop, db: Session) -> None:
    assert owner.post("/invented/delete").status_code == 404
    assert db.get(Shop, shop.id) is not None


@pytest.mark.parametrize("who", ["helper", "stranger"])
def test_others_leave_it_standing(
    request: pytest.FixtureRequest, who: str, looker: FlaskClient, invented: Shop, db: Session
) -> None:
    client = request.getfixturevalue(who)
    assert client.post("/invented/delete").status_code in {403, 404}
    assert db.scalar(select(func.count()).where(Shop.is_invented)) == 1


def test_nobody_is_asked_to_sign_in(app: Flask, looker: FlaskClient, invented: Shop, db: Session) -> None:
    answer = app.test_client().post("/invented/delete", environ_overrides={"REMOTE_ADDR": "192.0.2.7"})
    assert answer.status_code == 401
    assert db.scalar(select(func.count()).where(Shop.is_invented)) == 1


def test_removed_twice_is_removed_once(looker: FlaskClient, invented: Shop) -> None:
    looker.post("/invented/delete")
    assert looker.post("/invented/delete").status_code == 303  # no shop any more: led to starting one


def test_who_has_a_shop_of_their_own_comes_back_to_it(owner: FlaskClient, shop: Shop) -> None:
    owner.post("/invented", data={})
    assert owner.post("/invented/delete").location == "/"
    assert shop.name in owner.get("/").get_data(as_text=True)
