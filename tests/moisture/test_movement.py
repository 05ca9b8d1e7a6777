"""What a part does over the year and the room it needs: /parts/1/movement."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.moisture.typed import part, rows, stock
from webapp.builds.models import Part
from webapp.moisture.models import House, Leeway
from webapp.shops.models import Shop

WIDE = {"width_typed": "36 in", "width_nm": 914_400_000}


def top(db: Session, shop: Shop, low: float = 6, high: float = 12, **values: str | int) -> Part:
    factories.anew(db)
    build = factories.build(db, shop)
    db.add(House(shop_id=shop.id, build_id=build.id, place="own figures", low=low, high=high))
    return part(db, build, **{"wood": "white oak", "cut": "flat-sawn", **WIDE, **values})


def test_a_white_oak_top(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA13: 36 in, flat-sawn, 6 to 12 %: 0.79 in across the grain; a screw 18 in from the middle goes 0.2 in each way.

    Quarter-sawn 0.39 in. Coefficients: Wood Handbook FPL-GTR-190 Table 13-5, read.
    """
    row = top(db, shop)
    address = f"/parts/{row.id}/movement"
    page = owner.get(address).text
    assert '<b>0.79 in</b> <span class="pencil">across the grain over the year, none along it' in page
    assert "not read yet: reckoned as if it had 9 %" in page
    assert owner.post(f"{address}/slot", data={"distance": "18", "screw": "5 mm"}).status_code == 303
    page = owner.get(address).text
    assert "distance 18 in, screw 5 mm" in page
    assert "it goes 0.2 in towards the line held fast and 0.2 in away from it" in page
    factories.anew(db)
    row.cut = "quarter-sawn"
    db.commit()
    assert "<b>0.39 in</b>" in owner.get(address).text
    assert "0.39 in across the grain" in owner.get(f"/builds/{row.build_id}/parts").text


def test_unknown_wood_or_cut_has_no_number(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA13: species or cut unknown: nothing is made up."""
    for values, says in (
        ({"wood": ""}, "Say which wood it is"),
        ({"wood": "oak"}, "can be black oak"),
        ({"wood": "teak"}, "The figure for teak was not seen in print."),
        ({"cut": ""}, "Say how it is sawn"),
    ):
        row = top(db, shop, **values)
        owner.post(f"/parts/{row.id}/movement/slot", data={"distance": "18", "screw": "5 mm"})
        page = owner.get(f"/parts/{row.id}/movement").text
        assert page.count(says) == 2  # for the part and for its slot
        assert "over the year, none along it" not in page
        assert "Slot " not in page


def test_outside_of_the_range_it_says_so(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA13: the figures hold from 6 to 14 %."""
    row = top(db, shop, low=4, high=9)
    page = owner.get(f"/parts/{row.id}/movement").text
    assert "hold from 6 to 14 % moisture; 4 % is outside, so no movement is given" in page
    assert '<p class="figure">' not in page


def test_it_is_reckoned_from_the_newest_reading(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """36 × 0.00365 × 4 and 2 points from 10 %: 0.53 in less, 0.26 in more."""
    row = top(db, shop)
    stock(db, shop, START, 8.0)
    assert "8 % as the shop’s own stock" in owner.get(f"/parts/{row.id}/movement").text
    owner.post(f"/parts/{row.id}/moisture", data={"reading": "10"})
    page = owner.get(f"/parts/{row.id}/movement").text
    assert "it shrinks up to 0.53 in and grows up to 0.26 in" in page


def test_a_panel_and_a_drawer(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """As the examples of the pure functions, worked by hand there."""
    row = top(db, shop, high=10, wood="black cherry")
    address = f"/parts/{row.id}/movement"
    owner.post(f"{address}/panel", data={"opening": "400 mm", "groove": "10 mm", "hold": "5 mm"})
    assert "coat it before the frame goes round it, and never glue it in" in owner.get(address).text
    owner.post(f"{address}/panel", data={"opening": "400 mm", "groove": "6 mm", "hold": "5.5 mm"})
    assert "The groove is too shallow: it needs" in owner.get(address).text
    owner.post(f"{address}/panel", data={"opening": "400 mm", "groove": "6 mm", "hold": "7 mm"})
    assert "Make it deeper." in owner.get(address).text
    other = top(db, shop, high=11, wood="hard maple")
    owner.post(f"/parts/{other.id}/moisture", data={"reading": "8"})
    owner.post(f"/parts/{other.id}/movement/inset", data={"opening": "200 mm", "clear": "1 mm"})
    page = owner.get(f"/parts/{other.id}/movement").text
    assert "Cut it 7.75 in today: a gap of 0.12 in in all, 0.18 in in the dry season and 0.04 in in the damp" in page


def test_a_wood_of_ones_own(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """36 in of a wood with 0.002 flat-sawn, 6 points: 0.43 in."""
    row = top(db, shop, wood="Teak")
    figures = {"name": "teak", "radial": "0.001", "tangential": "0.002", "source": "the yard's sheet"}
    assert owner.post("/moisture/woods", data=figures).status_code == 303
    page = owner.get(f"/parts/{row.id}/movement").text
    assert "<b>0.43 in</b>" in page
    assert "the yard&#39;s sheet</bdi>, typed by hand" in page


def test_a_helper_may_and_sent_twice_is_once(helper: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap notes one slot."""
    row = top(db, shop)
    for _ in range(2):
        typed = {"distance": "18", "screw": "5 mm", "once": "k"}
        assert helper.post(f"/parts/{row.id}/movement/slot", data=typed).status_code == 303
    (found,) = rows(db, Leeway)
    assert helper.post(f"/movements/{found.id}/delete").status_code == 303
    assert rows(db, Leeway) == []


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    answer = owner.post(f"/parts/{top(db, shop).id}/movement/slot", data={"distance": "far", "screw": "5 mm"})
    assert answer.status_code == 422
    assert 'value="far"' in answer.text
    assert 'value="5 mm"' in answer.text


def test_a_stranger_finds_no_such_part(stranger: FlaskClient, owner: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/parts/{top(db, shop).id}/movement"
    owner.post(f"{address}/slot", data={"distance": "18", "screw": "5 mm"})
    key = rows(db, Leeway)[0].id
    assert stranger.get(address).status_code == 404
    assert stranger.post(f"{address}/slot", data={"distance": "1", "screw": "1"}).status_code == 404
    assert stranger.post(f"/movements/{key}/delete").status_code == 404
