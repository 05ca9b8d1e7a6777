"""Where a piece goes: /moisture/house for the usual, /builds/1/house for one piece."""

import html
import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.moisture.typed import part, rows, stock
from webapp.moisture.models import House
from webapp.shops.models import Shop


def version(client: FlaskClient, address: str) -> str:
    found = re.search(r'name="version" value="([^"]+)"', client.get(address).text)
    assert found
    return html.unescape(found[1])


def test_air_that_was_measured_becomes_moisture_of_wood(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """70 °F and 30 %, 75 °F and 60 %: Wood Handbook eq. 4-5 gives 6.2 and 10.9 %."""
    address = f"/builds/{factories.build(db, shop).id}/house"
    air = {"dry_temperature": "70", "dry_humidity": "30", "damp_temperature": "75", "damp_humidity": "60"}
    typed = {"place": "by hygrometer", "version": version(owner, address), **air}
    assert owner.post(address, data=typed).status_code == 303
    (row,) = rows(db, House)
    assert (row.low, row.high) == (pytest.approx(6.2, abs=0.05), pytest.approx(10.9, abs=0.05))
    form = owner.get(address).text
    assert 'value="70"' in form
    assert 'value="30"' in form
    assert "6.2 to 10.9 %" in form


def test_a_piece_has_its_own_house_or_the_usual_one(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    top = f"/parts/{part(db, build).id}/moisture"
    owner.post(top, data={"reading": "9"})
    usual = {"place": "indoors, dry Southwest", "near": "1.5", "version": version(owner, "/moisture/house")}
    assert owner.post("/moisture/house", data=usual).status_code == 303
    assert "Within 4 to 9 %" in owner.get(top).text
    own = {"place": "own figures", "low": "10", "high": "12", "version": version(owner, f"/builds/{build.id}/house")}
    assert owner.post(f"/builds/{build.id}/house", data=own).status_code == 303
    assert "1 point under 10 to 12 %" in owner.get(top).text
    back = {"place": "", "version": version(owner, f"/builds/{build.id}/house")}
    assert owner.post(f"/builds/{build.id}/house", data=back).status_code == 303
    assert [row.build_id for row in rows(db, House)] == [None]
    stock(db, shop, START, 7.4)
    assert "is 1.6 points over the shop&#39;s 7.4 %: wait until it reads 8.9 %" in owner.get(top).text


def test_what_makes_no_house_is_said(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for typed, says in (
        ({"place": "own figures", "low": "10"}, "This is needed here."),
        ({"place": "own figures", "low": "12", "high": "6"}, "Change the two round."),
        ({"place": "on the moon"}, "Please choose one of these."),
    ):
        answer = owner.post("/moisture/house", data={"version": version(owner, "/moisture/house"), **typed})
        assert (answer.status_code, says in answer.text) == (422, True)
        for value in list(typed.values())[1:]:
            assert f'value="{value}"' in answer.text
    assert rows(db, House) == []


def test_what_makes_no_house_leaves_the_one_before(owner: FlaskClient, db: Session, shop: Shop) -> None:
    saved = {"place": "own figures", "low": "5", "high": "9"}
    owner.post("/moisture/house", data=saved | {"version": version(owner, "/moisture/house")})
    air = {"dry_temperature": "70", "dry_humidity": "60", "damp_temperature": "70", "damp_humidity": "30"}
    wrong = {"place": "by hygrometer", "version": version(owner, "/moisture/house"), **air}
    answer = owner.post("/moisture/house", data=wrong)
    assert (answer.status_code, 'value="30"' in answer.text) == (422, True)
    assert "Change the two round." in answer.text
    assert [(row.place, row.low, row.dry_humidity) for row in rows(db, House)] == [("own figures", 5, None)]


def test_the_second_of_two_editors_sees_both(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: told, both shown."""
    seen = version(owner, "/moisture/house")
    owner.post("/moisture/house", data={"place": "own figures", "low": "5", "high": "9", "version": seen})
    answer = owner.post("/moisture/house", data={"place": "own figures", "low": "6", "high": "9", "version": seen})
    assert (answer.status_code, "<td>5</td><td>6</td>" in answer.text) == (409, True)


def test_only_an_owner_says_where_it_goes(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/builds/{factories.build(db, shop).id}/house"
    assert (helper.get(address).status_code, helper.post(address).status_code) == (403, 403)
    assert (stranger.get(address).status_code, stranger.post(address).status_code) == (404, 404)
