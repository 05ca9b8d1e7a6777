"""Two who change one piece at the same moment, on both databases."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from tests.builds import typed
from tests.journal.test_at_once import both
from webapp.builds.models import Build, Operation
from webapp.builds.waiting import circle, edges, named_by
from webapp.shops.models import Shop

ROUNDS = 4


@pytest.fixture
def phones(app: Flask, db: Session, shop: Shop) -> list[FlaskClient]:
    return [factories.client_of(app, db, shop, "Ada") for _ in range(2)]


def test_two_saves_that_would_close_a_circle_do_not(phones: list[FlaskClient], db: Session, shop: Shop) -> None:
    """Each is right by itself: one is saved, and the other sees it and is told."""
    for number in range(ROUNDS):
        build = factories.build(db, shop, f"Table {number}")
        operations = [factories.operation(db, build, key) for key in ("mill", "glue")]
        forms = {}
        for phone, own, other in zip(phones, operations, reversed(operations), strict=True):
            address = f"/operations/{own.id}/edit"
            forms[phone] = address, typed.version(phone, address) | {"wait_1": str(other.id)}
        key = build.id
        db.rollback()

        def save(client: FlaskClient, forms: dict[FlaskClient, tuple[str, dict[str, str]]] = forms) -> TestResponse:
            address, data = forms[client]
            return client.post(address, data=data)

        answers = both(phones, save)
        assert sorted(answer.status_code for answer in answers) == [303, 422]
        told = next(answer for answer in answers if answer.status_code == 422)
        assert "That is a circle" in told.text
        factories.anew(db)
        stored = db.get_one(Build, key).operations
        waits = edges({one.id: named_by(one) for one in stored}, {})
        assert [one.id for one in stored if circle(one.id, waits)] == []


def test_what_is_deleted_takes_nobodys_wait_along(phones: list[FlaskClient], db: Session, shop: Shop) -> None:
    """While one makes an operation wait for another, that other cannot go away under it."""
    for number in range(ROUNDS):
        build = factories.build(db, shop, f"Chair {number}")
        mill, glue = (factories.operation(db, build, key) for key in ("mill", "glue"))
        address, delete = f"/operations/{glue.id}/edit", f"/operations/{mill.id}/delete"
        data = typed.version(phones[0], address) | {"wait_1": str(mill.id)}
        keys = mill.id, glue.id
        db.rollback()

        def go(client: FlaskClient, address: str = address, delete: str = delete, data: object = data) -> TestResponse:
            return client.post(address, data=data) if client is phones[0] else client.post(delete)

        found = {id(answer.request): answer.status_code for answer in both(phones, go)}
        factories.anew(db)
        mill_left, glue_left = db.get(Operation, keys[0]), db.get_one(Operation, keys[1])
        assert sorted(found.values()) in ([303, 409], [303, 422])
        assert (mill_left is not None) == ([link.waits_for_id for link in glue_left.after] == [keys[0]])
