"""The journal as it is read."""

from datetime import timedelta

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.journal.steps import queries, tap
from webapp.shops.models import Shop


def test_an_empty_journal_says_what_it_will_hold(owner: FlaskClient) -> None:
    page = owner.get("/journal").text
    assert "Nothing in it is ever overwritten" in page


def test_lines_stand_newest_first_by_pages(owner: FlaskClient, db: Session, shop: Shop) -> None:
    ada = factories.maker(db, shop, "Ada")
    for number in range(60):
        factories.entry(db, ada, "noted", START - timedelta(hours=number), note=f"note {number:02d}")
    page = owner.get("/journal").text
    assert page.index("note 00") < page.index("note 39")
    assert "note 40" not in page
    assert "note 59" in owner.get("/journal?page=2").text


def test_words_are_found_without_case_and_accents(owner: FlaskClient, db: Session, shop: Shop) -> None:
    tap(owner, "/journal/note", note="Placage d'ÉBÈNE, 100 % plat")
    tap(owner, "/journal/note", note="Walnut")
    for words, found in (("ebene", True), ("100 %", True), ("_bene", False), ("walnut", False)):
        assert ("Placage" in owner.get("/journal", query_string={"words": words}).text) is found, words
    assert "says “pine”" in owner.get("/journal?words=pine").text


def test_corrected_words_are_found_too(owner: FlaskClient, db: Session, shop: Shop) -> None:
    tap(owner, "/journal/note", "n", note="Chery")
    tap(owner, "/entries/n/edit", at="2026-02-03T14:18", note="Cherry")
    assert "Cherry" in owner.get("/journal?words=cherry").text


def test_a_build_has_its_own(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build, other = factories.build(db, shop, "Tray"), factories.build(db, shop, "Desk")
    tap(owner, f"/builds/{build.id}/note", note="walnut")
    tap(owner, f"/builds/{other.id}/note", note="cherry")
    page = owner.get(f"/builds/{build.id}/journal").text
    assert "walnut" in page
    assert "cherry" not in page
    assert stranger.get(f"/builds/{build.id}/journal").status_code == 404
    assert owner.get("/builds/999/journal").status_code == 404


def test_a_builds_page_tells_where_each_operation_stands(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill, sand = factories.operation(db, build, name="Mill the legs"), factories.operation(db, build, "sand", count=4)
    tap(owner, f"/operations/{mill.id}/done")
    page = owner.get(f"/builds/{build.id}").text
    assert "done 14:18" in page
    assert "Start: Sand" in page
    assert f'action="/operations/{sand.id}/start"' in page
    assert "0 of 4 done" in page
    assert page.index('id="journal"') < page.index('id="photos"')


def test_queries_do_not_grow_with_lines(
    app: Flask, owner: FlaskClient, db: Session, shop: Shop, engine: Engine
) -> None:
    ada = factories.maker(db, shop, "Ada")
    counts = []
    for _ in range(2):
        for _ in range(8):
            operation = factories.operation(db, factories.build(db, shop))
            factories.entry(db, ada, "noted", START, on=operation, note="x")
        counts.append(queries(engine, owner, "/journal"))
    assert counts[0] == counts[1]
