"""What was read last, and the newest reading at a line of the stock: GET /moisture, GET /stock."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.moisture.typed import part, stock
from tests.stock.typed import material
from webapp.moisture.models import PartMoisture
from webapp.moisture.overview import SHOWN
from webapp.shops.models import Shop


def test_it_teaches_while_nothing_was_read(owner: FlaskClient, shop: Shop) -> None:
    page = owner.get("/moisture").text
    assert "No boards or parts read yet." in page
    assert "Not read yet." in page


def test_each_thing_stands_once_with_its_answer(
    owner: FlaskClient, helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    stock(db, shop, START)
    boards, top = material(db, shop), part(db, factories.build(db, shop))
    for reading in ("14", "9"):
        owner.post(f"/stock/{boards.id}/moisture", data={"reading": reading})
    owner.post(f"/parts/{top.id}/moisture", data={"reading": "12"})
    page = helper.get("/moisture").text
    assert page.count("White oak 8/4</bdi></b>") == 1
    assert "<b>9 %</b>" in page
    assert "May be milled: 1 point over" in page
    assert "Not yet: 4 points over, read again Sat 7" in page
    assert "/moisture/meters" not in page  # settings are the owner's
    assert "White oak" not in stranger.get("/moisture").text


def test_of_many_things_those_read_last_are_shown(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    boards, build = material(db, shop, name="Ash"), factories.build(db, shop)
    for number in range(SHOWN):
        at, row = START + timedelta(minutes=number + 1), part(db, build, f"Part {number}")
        read = {"number": 1, "revision": 1, "at": at, "arrived_at": at, "reading": 9}
        db.add(PartMoisture(shop_id=shop.id, part_id=row.id, **read))
    db.commit()
    owner.post(f"/stock/{boards.id}/moisture", data={"reading": "9"})
    page = owner.get("/moisture").text
    assert page.count(">Readings</a>") == SHOWN
    assert "Ash<" not in page
    clock.forward(hours=1)
    owner.post(f"/stock/{boards.id}/moisture", data={"reading": "8"})
    page = owner.get("/moisture").text
    assert page.count(">Readings</a>") == SHOWN
    assert "Part 0<" not in page
    assert page.index("Ash<") < page.index(f"Part {SHOWN - 1}<") < page.index("Part 1<")


def test_a_line_of_wood_shows_its_newest_reading(owner: FlaskClient, db: Session, shop: Shop) -> None:
    boards = material(db, shop)
    material(db, shop, kind="hardware", name="Hinges")
    assert owner.get("/stock").text.count("Read its moisture") == 1
    owner.post(f"/stock/{boards.id}/moisture", data={"reading": "10.6"})
    assert "10.6 % moisture, Tue 3" in owner.get("/stock").text
