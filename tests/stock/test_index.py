"""The list of what was bought."""

from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy import event
from sqlalchemy.orm import Session

from tests import factories
from tests.stock.typed import material
from webapp.shops.models import Shop


def test_an_empty_list_says_what_it_is_for(owner: FlaskClient) -> None:
    page = owner.get("/stock").text
    assert "Nothing was bought yet" in page
    assert "Add the first line" in page


def test_the_newest_line_stands_first(owner: FlaskClient, db: Session, shop: Shop) -> None:
    material(db, shop, name="older", bought_on=date(2026, 1, 2))
    material(db, shop, name="newer", bought_on=date(2026, 2, 2))
    material(db, shop, name="oldest", bought_on=date(2025, 2, 2))
    page = owner.get("/stock").text
    assert page.index("newer") < page.index("older") < page.index("oldest")


def test_the_total_of_all_is_this_years(owner: FlaskClient, db: Session, shop: Shop) -> None:
    material(db, shop, total_minor=1000, bought_on=date(2026, 1, 1))
    material(db, shop, total_minor=70000, bought_on=date(2025, 12, 31))
    page = owner.get("/stock").text
    assert "$10.00</b> in 2026" in page
    assert "$700.00" in page  # its own line


def test_a_builds_lines_and_the_shelfs_are_apart(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    material(db, shop, name="for the table", build_id=build.id, total_minor=1000, bought_on=date(2024, 1, 1))
    material(db, shop, name="paper for the shelf", total_minor=500)
    of_build = owner.get(f"/stock?build={build.id}").text
    assert "for the table" in of_build
    assert "paper for the shelf" not in of_build
    assert "1 line, <b>$10.00</b>" in of_build
    of_shelf = owner.get("/stock?shelf=").text
    assert "for the table" not in of_shelf
    assert "paper for the shelf" in of_shelf


def test_a_long_list_comes_by_pages(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for number in range(25):
        material(db, shop, name=f"line number {number:02d}")
    first, second = owner.get("/stock").text, owner.get("/stock?page=2").text
    assert "line number 24" in first
    assert "line number 00" not in first
    assert "line number 00" in second
    assert "25 lines" in second
    assert "Older" in first
    assert "Older" not in second


def test_a_helper_sees_the_list(helper: FlaskClient, db: Session, shop: Shop) -> None:
    material(db, shop)
    assert "White oak" in helper.get("/stock").text


def test_a_stranger_sees_nothing_of_it(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    material(db, shop, build_id=build.id)
    assert "White oak" not in stranger.get("/stock").text
    assert stranger.get(f"/stock?build={build.id}").status_code == 404


@pytest.mark.parametrize("typed", ["x", "-1", "1.5", "99999999999999999999999"])
def test_an_address_that_makes_no_sense_does_no_harm(owner: FlaskClient, typed: str) -> None:
    assert owner.get(f"/stock?build={typed}").status_code in {200, 404}


def test_queries_do_not_grow_with_the_lines(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    material(db, shop, build_id=build.id)
    before = queries(owner, db)
    for number in range(12):
        material(db, shop, build_id=factories.build(db, shop, f"Build {number}").id)
    assert queries(owner, db) == before


def queries(owner: FlaskClient, db: Session) -> int:
    seen: list[str] = []

    def note(*args: object) -> None:
        seen.append(str(args[2]))

    engine = db.get_bind()
    event.listen(engine, "before_cursor_execute", note)
    owner.get("/stock")
    event.remove(engine, "before_cursor_execute", note)
    return len(seen)
