"""The bench reminds of an old backup: whoever may make one, once there is something to lose."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from webapp.backups.models import Backup
from webapp.shops.models import Shop

NONE_YET = "There is no backup of all this yet."


@pytest.fixture
def worth_keeping(db: Session, shop: Shop) -> None:
    """A shop of last year in which something happened."""
    factories.entry(db, factories.maker(db, shop, "Ada"), "noted", START, on=factories.build(db, shop))


def test_a_shop_with_something_to_lose_is_reminded(worth_keeping: None, owner: FlaskClient) -> None:
    page = owner.get("/").text
    assert NONE_YET in page
    assert 'href="/backups"' in page


def test_after_a_week_it_reminds_again(worth_keeping: None, owner: FlaskClient, clock: Clock) -> None:
    owner.post("/backups").close()
    assert "backup" not in owner.get("/").text
    clock.forward(days=6, hours=23)
    assert "backup" not in owner.get("/").text
    clock.forward(hours=2)
    assert "The last backup was made Tue 3 February." in owner.get("/").text


def test_a_backup_by_command_counts_as_well(worth_keeping: None, owner: FlaskClient, db: Session) -> None:
    db.add(Backup(at=START, way="command", size=1, row_count=1, photo_count=0, missing_count=0))
    db.commit()
    assert "backup" not in owner.get("/").text


def test_a_new_shop_and_an_empty_one_are_left_in_peace(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert "backup" not in owner.get("/").text
    factories.entry(db, factories.maker(db, shop, "Ada"), "noted", START)
    assert NONE_YET in owner.get("/").text
    shop.created_at = START
    db.commit()
    assert "backup" not in owner.get("/").text


def test_who_cannot_make_one_is_not_reminded(
    worth_keeping: None, helper: FlaskClient, owner: FlaskClient, stranger: FlaskClient
) -> None:
    for client in (helper, owner, stranger):  # of two shops, each owned by another
        assert "backup" not in client.get("/").text


def test_the_invented_shop_does_not_remind(app: Flask, db: Session, engine: Engine) -> None:
    invented = factories.shop(db, "Invented", is_invented=True)
    client = factories.client_of(app, db, invented, "Guest")
    factories.entry(db, factories.maker(db, invented, "Guest"), "noted", START)
    assert "backup" not in client.get("/").text
    assert "backup" not in client.get("/shop").text.lower()
