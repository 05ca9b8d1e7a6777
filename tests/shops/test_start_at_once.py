"""Two very first visitors in one instant, on both databases: one of them becomes the owner."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from tests.shops.test_start import SHOP
from webapp.people.models import Person
from webapp.shops.models import Shop

ROUNDS = 3


def at_once(app: Flask, db: Session, *posts: tuple[str, dict[str, Any]], later: int = 303) -> list[int]:
    """Send each from a browser of its own at the same moment; how many shops and accounts there are then.

    The first is led on; `later` is what those are answered who came too late.
    """
    db.execute(delete(Shop))
    db.execute(delete(Person))
    db.commit()
    gate = Barrier(len(posts))

    def send(client: FlaskClient, address: str, data: dict[str, Any]) -> int:
        gate.wait()
        return client.post(address, data=data).status_code

    clients = [app.test_client() for _ in posts]
    with ThreadPoolExecutor(len(posts)) as threads:
        answers = list(threads.map(send, clients, *zip(*posts, strict=True)))
    assert {303} <= set(answers) <= {303, later}
    db.rollback()
    found = [db.scalar(select(func.count()).select_from(table)) or 0 for table in (Shop, Person)]
    db.rollback()
    assert {client.get("/").status_code for client in clients} == {200}  # on this computer both stand in it
    return found


def test_two_who_begin_a_shop_begin_one(app: Flask, db: Session) -> None:
    for _ in range(ROUNDS):
        assert at_once(app, db, ("/start", SHOP), ("/start", SHOP | {"maker": "Ben"}), later=403) == [1, 1]


def test_a_double_tap_on_the_very_first_form_begins_one(app: Flask, db: Session) -> None:
    """SA15: the same form twice, both on their way before anybody has an account."""
    for number in range(ROUNDS):
        form = SHOP | {"once": f"k{number}"}
        assert at_once(app, db, ("/start", form), ("/start", form)) == [1, 1]


@pytest.mark.parametrize("second", [("/invented", {"time_zone": "America/New_York"}), ("/start", SHOP)])
def test_looking_round_and_beginning_at_once_makes_one_owner(
    app: Flask, db: Session, second: tuple[str, dict[str, Any]]
) -> None:
    app.config["INVENTED_PICTURES"] = 0
    assert at_once(app, db, ("/invented", {"time_zone": "America/New_York"}), second, later=403) == [1, 1]
