"""Watch points after delivery: /builds/1/watches, /watches/1, and where they are due: the piece and the bench."""

from datetime import date, timedelta

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.journal.steps import queries
from tests.moisture.typed import part, rows
from webapp.builds.models import Build
from webapp.moisture.models import House, Look, Watch
from webapp.shops.models import Shop

TYPED = {"name": "Width of the top", "width": "36", "moisture": "9"}


def delivered(db: Session, shop: Shop) -> tuple[Build, dict[str, str]]:
    """A white oak top, 36 in, in a house of 6 to 12 %: 35.61 to 36.39 in is to be expected."""
    build = factories.build(db, shop, status="delivered", delivered_on=date(2026, 2, 3))
    db.add(House(shop_id=shop.id, build_id=build.id, place="own figures", low=6, high=12))
    top = part(db, build, wood="white oak", cut="flat-sawn")
    return build, {**TYPED, "part": str(top.id)}


def test_what_is_found_stands_beside_what_was_expected(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """36 in × 0.00365 × 3 points = 0.39 in either way: Wood Handbook FPL-GTR-190 eq. 13-2."""
    build, typed = delivered(db, shop)
    for _ in range(2):
        assert owner.post(f"/builds/{build.id}/watches", data=typed | {"once": "k"}).status_code == 303
    (watch,) = rows(db, Watch)
    page = owner.get(f"/builds/{build.id}").text
    assert "Expected over the year: 35.61 in to 36.39 in" in page
    assert "Look at it Tue 5 May" in page  # 91 days after Tue 3 February
    assert "watch point" not in owner.get("/").text
    clock.forward(days=90)
    assert "watch point" not in owner.get("/").text
    clock.forward(days=1)
    assert "1 watch point to look at: " in helper.get("/").text
    for width in ("35 1/2", "36"):
        assert helper.post(f"/watches/{watch.id}", data={"width": width, "note": "flat"}).status_code == 303
    page = owner.get(f"/watches/{watch.id}").text
    assert "outside of what was expected" in page
    assert page.count(">within<") == 1
    assert "watch point" not in owner.get("/").text
    assert "Look at it Tue 4 August" in page


def test_one_that_was_wrong_is_taken_back_by_a_later_row(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build, typed = delivered(db, shop)
    owner.post(f"/builds/{build.id}/watches", data=typed)
    for _ in range(2):  # SA15: sent twice is once
        owner.post("/watches/1", data={"note": "a gap", "once": "k"})
    (look,) = rows(db, Look)
    assert owner.post(f"/looks/{look.id}/delete").status_code == 303
    assert [(row.revision, row.is_taken_back, row.note) for row in rows(db, Look)] == [
        (1, False, "a gap"),
        (2, True, ""),
    ]
    assert "Not looked at yet." in owner.get("/watches/1").text


def test_it_can_be_given_up(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    build, typed = delivered(db, shop)
    owner.post(f"/builds/{build.id}/watches", data=typed)
    assert owner.post("/watches/1/end").status_code == 303
    clock.moment += timedelta(days=200)
    assert "watch point" not in owner.get("/").text
    assert "not looked at any more" in owner.get(f"/builds/{build.id}/watches").text


def test_without_wood_or_width_nothing_is_expected(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    typed = {"name": "Mitre", "part": str(part(db, build).id)}
    assert "None yet." in owner.get(f"/builds/{build.id}/watches").text
    owner.post(f"/builds/{build.id}/watches", data=typed)
    owner.post(f"/builds/{build.id}/watches", data=typed | {"width": "36", "moisture": "9"})
    assert "Without a width and a moisture" in owner.get("/watches/1").text
    assert "Say which wood it is" in owner.get("/watches/2").text
    assert "Expected over the year" not in owner.get(f"/builds/{build.id}/watches").text


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build, typed = delivered(db, shop)
    answer = owner.post(f"/builds/{build.id}/watches", data=typed | {"width": "wide"})
    assert (answer.status_code, 'value="wide"' in answer.text) == (422, True)
    assert owner.post(f"/builds/{build.id}/watches", data=typed | {"part": "999"}).status_code == 422
    owner.post(f"/builds/{build.id}/watches", data=typed)
    empty = owner.post("/watches/1", data={})
    assert (empty.status_code, "Write the width, or what you saw." in empty.text) == (422, True)
    assert rows(db, Look) == []


def test_a_stranger_finds_none(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build, typed = delivered(db, shop)
    owner.post(f"/builds/{build.id}/watches", data=typed)
    owner.post("/watches/1", data={"note": "a gap"})
    assert stranger.get(f"/builds/{build.id}/watches").status_code == 404
    assert stranger.get("/watches/1").status_code == 404
    for address in (f"/builds/{build.id}/watches", "/watches/1", "/watches/1/end", "/looks/1/delete"):
        assert stranger.post(address, data=typed | {"note": "x"}).status_code == 404


def test_queries_do_not_grow_with_the_watch_points(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    build, typed = delivered(db, shop)
    pages, asked = [f"/builds/{build.id}", f"/builds/{build.id}/watches"], []
    other = {**typed, "part": str(part(db, build, "Apron", wood="cherry", cut="flat-sawn").id)}
    for several in ([typed], [typed, other, other]):
        for one in several:
            assert owner.post(f"/builds/{build.id}/watches", data=one).status_code == 303
        for page in pages:
            owner.get(page)  # what is kept was let go of by the post
        asked.append([queries(app.extensions["sessions"].engine, owner, page) for page in pages])
    assert asked[0] == asked[1]
