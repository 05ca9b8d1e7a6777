"""Days shut and extra hours."""

from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Closed, Extra, Shop


def test_days_are_shut_and_opened_again(owner: FlaskClient, db: Session, shop: Shop) -> None:
    typed = {"first_on": "2026-02-16", "last_on": "2026-02-20", "note": "Fair"}
    assert owner.post("/shop/closed", data=typed).status_code == 303
    factories.anew(db)
    assert "Mon 16 February – Fri 20 February" in owner.get("/shop/closed").text
    row = shop.closed[0]
    assert (row.first_on, row.last_on, row.note) == (date(2026, 2, 16), date(2026, 2, 20), "Fair")
    assert owner.post(f"/shop/closed/{row.id}/delete").status_code == 303
    factories.anew(db)
    assert shop.closed == []


def test_one_day_needs_no_last_day(owner: FlaskClient, db: Session, shop: Shop) -> None:
    owner.post("/shop/closed", data={"first_on": "2026-02-16", "last_on": ""})
    factories.anew(db)
    assert shop.closed[0].last_on == date(2026, 2, 16)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"first_on": ""}, "Which day?"),
        ({"first_on": "2026-02-30"}, "Type a day like 2026-02-03."),
        ({"first_on": "2026-02-16", "last_on": "2026-02-15"}, "The last day is before the first."),
    ],
)
def test_wrong_days_are_refused_and_kept(
    owner: FlaskClient, db: Session, shop: Shop, typed: dict[str, str], message: str
) -> None:
    page = owner.post("/shop/closed", data=typed | {"note": "kept"})
    assert page.status_code == 422
    assert message in page.text
    assert 'value="kept"' in page.text
    factories.anew(db)
    assert shop.closed == []


def test_sent_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap shuts the shop once."""
    for _ in range(2):
        assert owner.post("/shop/closed", data={"first_on": "2026-02-16", "once": "k"}).status_code == 303
        assert (
            owner.post(
                "/shop/extra", data={"on_day": "2026-02-21", "opens": "9", "closes": "13", "once": "k"}
            ).status_code
            == 303
        )
    factories.anew(db)
    assert len(shop.closed) == len(shop.extra) == 1


def test_an_extra_saturday(owner: FlaskClient, db: Session, shop: Shop) -> None:
    owner.post("/shop/extra", data={"on_day": "2026-02-21", "opens": "9", "closes": "24:00"})
    factories.anew(db)
    assert "09:00–24:00" in owner.get("/shop/extra").text
    row = shop.extra[0]
    assert (row.on_day, row.opens, row.closes) == (date(2026, 2, 21), 540, 1440)
    owner.post(f"/shop/extra/{row.id}/delete")
    factories.anew(db)
    assert shop.extra == []


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"closes": "9"}, "It closes at 09:00 but opens at 09:00."),
        ({"on_day": ""}, "Which day?"),
        ({"opens": "x"}, "Type a time of day"),
    ],
)
def test_wrong_extra_hours_are_refused(
    owner: FlaskClient, db: Session, shop: Shop, typed: dict[str, str], message: str
) -> None:
    page = owner.post("/shop/extra", data={"on_day": "2026-02-21", "opens": "9", "closes": "13"} | typed)
    assert page.status_code == 422
    assert message in page.text
    factories.anew(db)
    assert shop.extra == []


def test_another_shops_days_do_not_exist(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    closed = Closed(shop_id=shop.id, first_on=date(2026, 3, 1), last_on=date(2026, 3, 1))
    extra = Extra(shop_id=shop.id, on_day=date(2026, 3, 1), opens=0, closes=60)
    db.add_all([closed, extra])
    db.commit()
    assert stranger.post(f"/shop/closed/{closed.id}/delete").status_code == 404
    assert stranger.post(f"/shop/extra/{extra.id}/delete").status_code == 404


def test_ten_years_of_days_come_in_pages(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """The latest first; the shop's own page has only those to come."""
    for year in range(2010, 2032):
        db.add(Closed(shop_id=shop.id, first_on=date(year, 6, 1), last_on=date(year, 6, 2), note=f"fair of {year}"))
        db.add(Extra(shop_id=shop.id, on_day=date(year, 5, 1), opens=60, closes=120))
    db.commit()
    page = owner.get("/shop/closed").text
    assert page.index("fair of 2031") < page.index("fair of 2012")
    assert "fair of 2011" not in page
    assert "fair of 2011" in owner.get("/shop/closed?page=2").text
    assert "1 May 2011" in owner.get("/shop/extra?page=2").text
    shown = owner.get("/shop").text
    assert "fair of 2026" in shown
    assert "fair of 2025" not in shown
