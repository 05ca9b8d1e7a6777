"""What other pages show of the photos, and that the database is not asked once for each line."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import Any

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.photos import sending
from webapp.builds.models import Build
from webapp.photos.covers import counts, covers
from webapp.shops.models import Shop


@contextmanager
def asked(engine: Engine) -> Iterator[list[str]]:
    """The questions put to the database meanwhile."""
    found: list[str] = []

    def note(_connection: Any, _cursor: Any, statement: str, *_more: Any) -> None:
        found.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    yield found
    event.remove(engine, "before_cursor_execute", note)


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def test_the_chosen_picture_stands_for_a_build_else_the_newest(db: Session, shop: Shop, build: Build) -> None:
    stool, bench, shelf = (factories.build(db, shop, name) for name in ("Stool", "Settle", "Shelf"))
    chosen = sending.photo(db, build, START - timedelta(days=3), is_cover=True)
    sending.photo(db, build, START)
    sending.photo(db, stool, START - timedelta(days=1))
    newest = sending.photo(db, stool, START)
    sending.photo(db, stool, START + timedelta(days=1), removed_at=START)
    sending.photo(db, bench, START, removed_at=START)
    found = covers(db, [build, stool, bench, shelf])
    assert {key: photo.id for key, photo in found.items()} == {build.id: chosen.id, stool.id: newest.id}
    assert covers(db, []) == {}


def test_photos_of_operations_are_counted(db: Session, build: Build) -> None:
    mill, groove, sand = (factories.operation(db, build, key) for key in ("mill", "groove", "sand"))
    for _ in range(3):
        sending.photo(db, mill, START)
    sending.photo(db, groove, START, removed_at=START)
    assert counts(db, [mill, groove, sand]) == {mill.id: 3}


def test_a_list_of_builds_asks_once_for_all_pictures(
    owner: FlaskClient, db: Session, shop: Shop, engine: Engine
) -> None:
    def seen() -> tuple[int, int]:
        with asked(engine) as questions:
            page = owner.get("/builds").text
        return sum("photo" in question for question in questions), page.count("small.webp")

    sending.photo(db, factories.build(db, shop), START)
    owner.get("/builds")
    few = seen()
    for number in range(12):
        sending.photo(db, factories.build(db, shop, f"Stool {number}"), START)
    many = seen()
    assert (few[1], many[1]) == (1, 13)
    assert few[0] == many[0] == 1


def test_a_page_of_a_build_asks_as_often_for_one_photo_as_for_many(
    owner: FlaskClient, db: Session, build: Build, engine: Engine
) -> None:
    def seen() -> int:
        with asked(engine) as questions:
            owner.get(f"/builds/{build.id}")
        return sum("photo" in question.split("FROM", 1)[-1] for question in questions)

    maker = factories.maker(db, build_shop(db, build), "Ada")

    def add(key: str) -> None:
        operation = factories.operation(db, build, key)
        photo = sending.photo(db, operation, START, caption=key)
        factories.entry(db, maker, "photographed", START, on=operation, photo=photo.id)

    add("mill")
    few = seen()
    for number in range(6):
        add(f"step{number}")
    assert seen() == few


def build_shop(db: Session, build: Build) -> Shop:
    return db.get_one(Shop, build.shop_id)


def test_the_page_of_a_build_shows_the_newest_and_the_way_to_more(
    owner: FlaskClient, db: Session, build: Build
) -> None:
    page = owner.get(f"/builds/{build.id}").text
    assert "No photos of this build yet." in page
    assert f'href="/builds/{build.id}/photos/new"' in page
    for number in range(9):
        sending.photo(db, build, START - timedelta(hours=number), caption=f"number-{number}")
    page = owner.get(f"/builds/{build.id}").text
    assert "number-7" in page
    assert "number-8" not in page
    assert "All photos" in page
    assert f'href="/photos?build={build.id}"' in page


def test_a_line_of_an_operation_says_how_many(owner: FlaskClient, db: Session, build: Build) -> None:
    mill = factories.operation(db, build, "mill")
    for _ in range(2):
        sending.photo(db, mill, START)
    assert f'href="/photos?operation={mill.id}">2 photos</a>' in owner.get(f"/builds/{build.id}").text


def test_a_line_of_the_journal_shows_no_photo_of_another_shop(
    owner: FlaskClient, db: Session, shop: Shop, build: Build
) -> None:
    """An entry comes from a page and may name any number."""
    theirs = sending.photo(db, factories.build(db, factories.shop(db, "Elsewhere")), START)
    factories.entry(db, factories.maker(db, shop, "Ada"), "photographed", START, on=build, photo=theirs.id)
    for address in (f"/builds/{build.id}", "/journal"):
        page = owner.get(address)
        assert page.status_code == 200
        assert f"/photos/{theirs.id}/" not in page.text
