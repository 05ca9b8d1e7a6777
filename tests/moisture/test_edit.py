"""A reading put right or taken back: rows are only added. /parts/1/moisture/1, …/delete."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.moisture.typed import part, parts, pin_meter
from webapp.shops.models import Shop


def test_the_one_before_stays(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    pin_meter(db, shop)
    owner.post(address, data={"reading": "15", "meter": "pin meter", "temperature": "50"})
    clock.forward(hours=1)
    form = owner.get(f"{address}/1").text
    assert 'value="15"' in form
    assert 'value="50"' in form
    assert '<option selected value="pin meter">' in form
    typed = {"reading": "13", "version": "1", "at": "2026-02-03T14:18", "meter": "pin meter", "temperature": "68"}
    assert helper.post(f"{address}/1", data=typed).status_code == 303
    old, new = parts(db)
    assert (old.reading, old.moisture, old.revision, new.reading, new.moisture, new.revision) == (15, 17, 1, 13, 13, 2)
    assert (old.at, new.at, new.number) == (START, START, 1)
    page = owner.get(address).text
    assert "<b>13 %</b>" in page
    assert '<s class="pencil">15 %</s>' in page


def test_the_second_of_two_editors_sees_both(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: told, both shown, nothing typed lost; sending again is a decision."""
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    owner.post(address, data={"reading": "15"})
    assert owner.post(f"{address}/1", data={"reading": "13", "version": "1"}).status_code == 303
    answer = owner.post(f"{address}/1", data={"reading": "12", "version": "1"})
    assert answer.status_code == 409
    assert "<td>13</td><td>12</td>" in answer.text
    assert owner.post(f"{address}/1", data={"reading": "12", "version": "2"}).status_code == 303
    assert [row.reading for row in parts(db)] == [15, 13, 12]


def test_one_that_was_taken_back_counts_no_more_and_is_seen(owner: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    owner.post(address, data={"reading": "15"})
    assert owner.post(f"{address}/1/delete").status_code == 303
    assert [row.reading for row in parts(db)] == [15, None]
    page = owner.get(address).text
    assert "<s>15 %</s>" in page
    assert "taken back by <bdi>Ada</bdi>" in page
    assert "Where it goes" not in page  # nothing left that counts
    for gone in (owner.get(f"{address}/1"), owner.post(f"{address}/1/delete"), owner.get(f"{address}/9")):
        assert gone.status_code == 404
    assert owner.get(f"{address}/{10**20}").status_code == 404  # no number of a database


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    owner.post(address, data={"reading": "15"})
    answer = owner.post(f"{address}/1", data={"reading": "damp", "version": "1"})
    assert (answer.status_code, 'value="damp"' in answer.text, len(parts(db))) == (422, True, 1)


def test_a_stranger_finds_no_such_reading(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    owner.post(address, data={"reading": "15"})
    assert stranger.get(f"{address}/1").status_code == 404
    assert stranger.post(f"{address}/1", data={"reading": "1"}).status_code == 404
    assert stranger.post(f"{address}/1/delete").status_code == 404
    assert len(parts(db)) == 1
