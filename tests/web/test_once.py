"""A form sent twice is stored once."""

import re
from threading import Barrier, Thread

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from webapp.db.receipt import Receipt
from webapp.shops.models import Equipment, Reading, Shop

READING = {"humidity": "45", "once": "k1"}


def count(db: Session) -> int:
    factories.anew(db)
    return db.scalar(select(func.count(Reading.id))) or 0


def test_each_form_that_is_shown_has_a_key_of_its_own(owner: FlaskClient) -> None:
    keys = [re.findall(r'name="once" value="(\w{32})"', owner.get("/shop/readings").text) for _ in range(2)]
    assert len({key for found in keys for key in found}) == 2


def test_the_same_form_twice_is_one_row_and_the_same_answer(owner: FlaskClient, db: Session) -> None:
    """SA15: the answer was lost on weak Wi-Fi, and the phone sends again."""
    first = owner.post("/shop/readings", data=READING)
    again = owner.post("/shop/readings", data=READING)
    assert (first.status_code, again.status_code) == (303, 303)
    assert first.location == again.location
    assert count(db) == 1


def test_the_same_page_filled_in_otherwise_is_another_form(owner: FlaskClient, db: Session) -> None:
    """Going back, changing a figure and sending again means it."""
    owner.post("/shop/readings", data=READING)
    owner.post("/shop/readings", data=READING | {"humidity": "46"})
    assert count(db) == 2


def test_the_same_key_on_another_page_is_another_form(owner: FlaskClient, db: Session) -> None:
    owner.post("/shop/readings", data=READING)
    owner.post("/shop/equipment", data={"name": "Press", "count": "1", "once": "k1"})
    assert count(db) == 1
    assert db.scalar(select(func.count(Equipment.id))) == 1


def test_a_new_token_makes_no_new_form(owner: FlaskClient, db: Session) -> None:
    owner.post("/shop/readings", data=READING | {"csrf_token": "a"})
    owner.post("/shop/readings", data=READING | {"csrf_token": "b"})
    assert count(db) == 1


def test_without_a_key_every_form_counts(owner: FlaskClient, db: Session) -> None:
    owner.post("/shop/readings", data={"humidity": "45"})
    owner.post("/shop/readings", data={"humidity": "45"})
    assert count(db) == 2


def test_a_form_that_was_wrong_leaves_no_receipt(owner: FlaskClient, db: Session) -> None:
    assert owner.post("/shop/readings", data=READING | {"humidity": "145"}).status_code == 422
    factories.anew(db)
    assert db.scalar(select(func.count()).select_from(Receipt)) == 0


def test_two_taps_at_the_same_moment_are_one(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: both requests are on their way before either has been answered."""
    clients = [factories.client_of(app, db, shop, "Ada") for _ in range(4)]
    gate, answers = Barrier(len(clients)), []

    def tap(client: FlaskClient) -> None:
        gate.wait()
        answers.append(client.post("/shop/equipment", data={"name": "Press", "count": "1", "once": "k"}))

    threads = [Thread(target=tap, args=(client,)) for client in clients]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert {(answer.status_code, answer.location) for answer in answers} == {(303, "/shop/equipment")}
    factories.anew(db)
    assert db.scalar(select(func.count(Equipment.id))) == 1
