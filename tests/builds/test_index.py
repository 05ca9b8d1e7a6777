from datetime import date
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.shops.models import Shop


def test_an_empty_shop_is_told_what_comes_here(owner: FlaskClient, helper: FlaskClient) -> None:
    page = owner.get("/builds").text
    assert "No pieces yet." in page
    assert 'href="/builds/new"' in page
    assert 'href="/builds/new"' not in helper.get("/builds").text


def test_open_pieces_stand_by_status_and_promise(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Chair", status="in the making")
    factories.build(db, shop, "Desk", status="in the making", due_on=date(2026, 2, 13), client="Mia")
    factories.build(db, shop, "Shelf", status="enquiry")
    factories.build(db, shop, "Chest", status="aftercare", delivered_on=date(2026, 1, 9))
    factories.build(db, shop, "Stool", status="closed")
    page = typed.text(owner.get("/builds"))
    places = [page.index(name) for name in ("Shelf", "In the making", "Desk", "Chair", "Aftercare", "Chest")]
    assert places == sorted(places)
    assert "for Mia" in page
    assert "promised Fri 13 February" in page
    assert "delivered Fri 9 January" in page
    assert "Stool" not in page
    assert "Closed and lost: 1" in page


def test_what_is_put_away_is_behind_a_link(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Stool", status="closed")
    factories.build(db, shop, "Cot", status="lost")
    factories.build(db, shop, "Chair")
    page = owner.get("/builds?put-away=1").text
    assert "Stool" in page
    assert "Cot" in page
    assert "Chair" not in page


@pytest.mark.parametrize("words", ["ÉBÈNE", "e\u0301bene", "larsen", "hall tab", "wobbl"])
def test_words_are_found_in_name_client_wood_and_note(owner: FlaskClient, db: Session, shop: Shop, words: str) -> None:
    more: dict[str, Any] = {"client": "the Larsens", "wood": "ébène", "note": "must not wobble", "status": "closed"}
    factories.build(db, shop, "Hall table", **more)
    factories.build(db, shop, "Chair 100%_")
    page = owner.get("/builds", query_string={"q": words}).text
    assert "Hall table" in page
    assert "Chair" not in page


def test_signs_of_the_search_language_mean_themselves(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Chair 100%_")
    factories.build(db, shop, "Chest 1000")
    page = owner.get("/builds?q=100%25_").text
    assert "Chair" in page
    assert "Chest" not in page
    assert "Nothing with" in owner.get("/builds?q=zebra").text


def test_twenty_stand_on_a_page(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for number in range(21):
        factories.build(db, shop, f"Piece {number:02d}")
    first, second = owner.get("/builds").text, owner.get("/builds?page=2").text
    assert "Piece 19" in first
    assert "Piece 20" not in first
    assert "Piece 20" in second
    assert "Piece 19" not in second


def test_a_helper_sees_them_and_a_stranger_does_not(
    helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    factories.build(db, shop, "Hall table")
    assert "Hall table" in helper.get("/builds").text
    assert "Hall table" not in stranger.get("/builds").text
    assert "Hall table" not in stranger.get("/builds?q=hall").text


def queries(engine: Engine, client: FlaskClient, address: str) -> int:
    said: list[str] = []

    def note(_c: Any, _cursor: Any, statement: str, *_more: Any) -> None:
        said.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    assert client.get(address).status_code == 200
    event.remove(engine, "before_cursor_execute", note)
    return len(said)


def test_queries_do_not_grow_with_the_pieces(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    engine = app.extensions["sessions"].engine
    builds = [factories.build(db, shop, f"Piece {number}") for number in range(5)]
    for build in builds:
        factories.operation(db, build, "mill")
    owner.get("/builds")
    factories.operation(db, builds[0], "shape")  # so that no plan is kept
    few = queries(engine, owner, "/builds")
    for number in range(45):
        factories.operation(db, factories.build(db, shop, f"Other {number}"), "mill")
    assert queries(engine, owner, "/builds") == few
