"""Noting a reading: POST /moisture/stock, /stock/1/moisture, /parts/1/moisture."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.moisture.typed import boards, part, parts, pin_meter, rows
from tests.stock.typed import material
from webapp.moisture.models import StockMoisture
from webapp.shops.models import Shop


def test_cold_wood_is_put_right_and_what_was_read_is_kept(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA12: 15 % on wood at 50 °F, by a meter made for 68 °F: kept as read and as 17 %."""
    pin_meter(db, shop)
    address = f"/stock/{material(db, shop).id}/moisture"
    owner.post(address, data={"reading": "15 %", "meter": "pin meter", "temperature": "50", "place": "core"})
    (row,) = boards(db)
    assert (row.reading, row.temperature, row.moisture, row.why_not) == (15, 10, 17, "")
    assert (row.unit, row.at, row.place, row.number, row.revision) == ("F", START, "core", 1, 1)
    page = owner.get(address).text
    assert "<b>17 %</b>" in page
    assert "15 % as read" in page
    assert "at 50 °F" in page


def test_what_the_table_does_not_tell_counts_as_read(owner: FlaskClient, db: Session, shop: Shop) -> None:
    pin_meter(db, shop)
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    owner.post(address, data={"reading": "15", "meter": "pin meter", "temperature": "32"})
    (row,) = parts(db)
    assert (row.moisture, row.counts_as) == (None, 15)
    assert "goes from 50 to 68 °F; the wood has 32 °F. It counts as read." in owner.get(address).text


def test_the_ends_of_a_table_hold_in_fahrenheit(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """100 °F is kept as 37.7778 °C; it is still the 100 °F of the table."""
    pin_meter(db, shop).by_temperature = [[68.0, None, 0.0], [100.0, None, -1.5]]
    db.commit()
    owner.post("/moisture/stock", data={"reading": "8", "meter": "pin meter", "temperature": "100"})
    assert rows(db, StockMoisture)[0].moisture == 6.5


def test_a_helper_may_note_one(helper: FlaskClient, db: Session, shop: Shop) -> None:
    assert helper.post("/moisture/stock", data={"reading": "8"}).status_code == 303
    assert rows(db, StockMoisture)[0].maker.name == "Ben"


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    for typed, says in (("wet", "is not a number"), ("120", "from 0 to 100 %"), ("", "What does the meter show?")):
        answer = owner.post("/moisture/stock", data={"reading": typed, "place": "the end"})
        assert answer.status_code == 422
        assert says in answer.text
        assert f'value="{typed}"' in answer.text
        assert 'value="the end"' in answer.text
    ahead = owner.post("/moisture/stock", data={"reading": "8", "at": "2026-02-04T08:00"})
    assert (ahead.status_code, "still to come" in ahead.text) == (422, True)
    assert owner.post("/moisture/stock", data={"reading": "8", "meter": "another's"}).status_code == 422
    assert rows(db, StockMoisture) == []


def test_sent_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap notes one reading."""
    for _ in range(2):
        assert owner.post("/moisture/stock", data={"reading": "8", "once": "k"}).status_code == 303
    assert len(rows(db, StockMoisture)) == 1
