"""Meters with the tables of their manuals: /moisture/meters."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.moisture.typed import pin_meter, rows
from webapp.moisture.models import Meter, StockMoisture
from webapp.shops.models import Shop

TYPED = {
    "name": "old meter",
    "unit": "F",
    "by_temperature": "50 15 +2\n50 10 +1.5\n\n68 0",
    "by_species": "White oak 12 -0.5",
    "species_first": "y",
}


def test_a_table_is_typed_line_by_line(owner: FlaskClient, db: Session, shop: Shop) -> None:
    assert owner.post("/moisture/meters", data=TYPED).status_code == 303
    (row,) = rows(db, Meter)
    assert row.by_temperature == [[50, 15, 2], [50, 10, 1.5], [68, None, 0]]
    assert (row.by_species, row.species_first) == ([["White oak", 12, -0.5]], True)
    form = owner.get(f"/moisture/meters/{row.id}").text
    assert "50 15 +2\n50 10 +1.5\n68 +0" in form
    assert "White oak 12 -0.5" in form
    assert '<option value="White oak">' in owner.get("/moisture/stock").text


def test_a_wrong_line_is_named_and_nothing_typed_is_lost(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for table, says in (
        ("50 15 +2\nwarm +1", "Line 2: warm is not a number"),
        ("50", "Line 1: write temperature"),
        ("50 +2\n50 +3", "says two things for one reading"),
    ):
        answer = owner.post("/moisture/meters", data=TYPED | {"by_temperature": table})
        assert answer.status_code == 422
        assert says in answer.text
        assert table in answer.text
    pin_meter(db, shop)
    again = owner.post("/moisture/meters", data=TYPED | {"name": "pin meter"})
    assert (again.status_code, "of that name already" in again.text) == (422, True)
    assert len(rows(db, Meter)) == 1


def test_sent_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap adds one meter."""
    for _ in range(2):
        assert owner.post("/moisture/meters", data=TYPED | {"once": "k"}).status_code == 303
    assert len(rows(db, Meter)) == 1


def test_a_new_table_leaves_old_readings_as_they_were(owner: FlaskClient, db: Session, shop: Shop) -> None:
    meter = pin_meter(db, shop)
    owner.post("/moisture/stock", data={"reading": "15", "meter": "pin meter", "temperature": "50"})
    typed = TYPED | {"name": "pin meter", "by_temperature": "50 +1\n68 0", "version": "1"}
    assert owner.post(f"/moisture/meters/{meter.id}", data=typed).status_code == 303
    stale = owner.post(f"/moisture/meters/{meter.id}", data=typed | {"by_temperature": "50 +3"})
    assert stale.status_code == 409
    assert owner.post(f"/moisture/meters/{meter.id}", data=typed | {"version": "2", "name": ""}).status_code == 422
    assert rows(db, Meter)[0].by_temperature == [[50, None, 1], [68, None, 0]]
    assert owner.post(f"/moisture/meters/{meter.id}/delete").status_code == 303
    (row,) = rows(db, StockMoisture)
    assert (row.moisture, row.meter, rows(db, Meter)) == (17, "pin meter", [])
    assert '<option selected value="pin meter">' in owner.get("/moisture/stock/1").text


def test_only_an_owner_types_tables(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    meter = pin_meter(db, shop)
    assert helper.get("/moisture/meters").status_code == 403
    assert helper.post("/moisture/meters", data=TYPED).status_code == 403
    for address in (f"/moisture/meters/{meter.id}", f"/moisture/meters/{meter.id}/delete"):
        assert helper.post(address, data=TYPED).status_code == 403
        assert stranger.post(address, data=TYPED).status_code == 404
    assert stranger.get(f"/moisture/meters/{meter.id}").status_code == 404
