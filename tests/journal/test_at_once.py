"""Two taps on their way at the same moment, on both databases."""

from collections.abc import Callable
from threading import Barrier, Thread
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from tests.builds import typed
from tests.conftest import Clock
from tests.journal.steps import entries, tap
from tests.stock.typed import line
from webapp.builds.models import Operation
from webapp.journal.actions import labour_of, states
from webapp.shops.models import Shop
from webapp.stock.models import Material

ROUNDS = 4


def both(clients: list[FlaskClient], send: Callable[[FlaskClient], TestResponse]) -> list[TestResponse]:
    """Let each client send at the same moment; the answers."""
    gate, answers = Barrier(len(clients)), list[TestResponse]()

    def go(client: FlaskClient) -> None:
        gate.wait()
        answers.append(send(client))

    threads = [Thread(target=go, args=(client,)) for client in clients]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


@pytest.fixture
def phones(app: Flask, db: Session, shop: Shop) -> list[FlaskClient]:
    """Ada's phone and her desktop."""
    return [factories.client_of(app, db, shop, "Ada") for _ in range(2)]


@pytest.fixture
def operations(db: Session, shop: Shop) -> list[Operation]:
    build = factories.build(db, shop)
    return [factories.operation(db, build, f"cut {number}") for number in range(ROUNDS)]


def test_one_clock_started_on_two_phones_is_one(
    phones: list[FlaskClient], operations: list[Operation], db: Session, shop: Shop, clock: Clock
) -> None:
    """SA09: each page has a key of its own, so that only the journal can know; 30 min later it is 30 min."""
    paths = [f"/operations/{one.id}/start" for one in operations]
    db.rollback()
    for path in paths:
        answers = both(phones, lambda client, path=path: tap(client, path, others="beside"))
        assert {(answer.status_code, answer.location) for answer in answers} == {(303, "/")}
    now = clock.forward(minutes=30)
    found = states(db, operations, now)
    assert [len(found[one.id].spans) for one in operations] == [1] * ROUNDS
    labour = labour_of(db, shop, now)
    assert sum((stretch.end - stretch.start).total_seconds() for stretch in labour.stretches) == 30 * 60


def test_one_line_sent_twice_at_once_is_one(
    phones: list[FlaskClient], operations: list[Operation], db: Session
) -> None:
    """SA15: a double tap on "start", both on their way before either is answered: one row, the same answer."""
    for number, operation in enumerate(operations):
        path = f"/operations/{operation.id}/start"
        db.rollback()
        answers = both(
            phones,
            lambda client, path=path, number=number: tap(
                client, path, f"tap-{number}", next="/journal", others="beside"
            ),
        )
        assert {(answer.status_code, answer.location) for answer in answers} == {(303, "/journal")}
    assert [one.id for one in entries(db)] == [f"tap-{number}" for number in range(ROUNDS)]


def test_one_cost_sent_twice_at_once_is_one(phones: list[FlaskClient], db: Session) -> None:
    """SA15: a double tap on "add cost 42.50": one row, the same answer."""
    for number in range(ROUNDS):
        data = line(once=f"k{number}", quantity="1", unit_price="42.50")
        db.rollback()
        answers = both(phones, lambda client, data=data: client.post("/stock/new", data=data))
        assert {answer.status_code for answer in answers} == {303}
        assert len({answer.location for answer in answers}) == 1
    db.rollback()
    assert db.scalar(select(func.count()).select_from(Material)) == ROUNDS
    assert set(db.scalars(select(Material.total_minor))) == {4250}


def test_two_who_save_one_operation_at_once_lose_nothing(
    phones: list[FlaskClient], operations: list[Operation], db: Session
) -> None:
    """SA09: one is saved and the other is told, with what was typed; which one, nobody can say."""
    for operation in operations:
        address = f"/operations/{operation.id}/edit"
        opened = {client: typed.version(client, address) for client in phones}
        notes = dict(zip(phones, ("by phone", "by desk"), strict=True))
        db.rollback()

        def save(client: FlaskClient, address: str = address, opened: Any = opened, notes: Any = notes) -> TestResponse:
            return client.post(address, data={**opened[client], "note": notes[client]})

        answers = both(phones, save)
        assert sorted(answer.status_code for answer in answers) == [303, 409]
        db.rollback()
        saved = db.get_one(Operation, operation.id).note
        told = next(answer for answer in answers if answer.status_code == 409).text
        assert ({"by phone", "by desk"} - {saved}).pop() in told
