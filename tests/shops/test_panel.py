"""What the top line says: open or shut, and how warm it was last."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.conftest import START, Clock
from webapp.shops.actions import replace_hours
from webapp.shops.models import Closed, Extra, Reading, Shop

ZONE = ZoneInfo("America/New_York")


def head(client: FlaskClient) -> str:
    page = " ".join(client.get("/shop/readings").text.split())
    return page.split('<span class="hours">')[1].split("</p>")[0]


@pytest.mark.parametrize(
    ("at", "says"),
    [
        ("2026-02-03T14:18", "open until 17:00"),
        ("2026-02-03T16:59", "open until 17:00"),
        ("2026-02-03T17:00", "shut until Wed 4, 08:00"),
        ("2026-02-04T07:59", "shut until 08:00"),
        ("2026-02-06T18:00", "shut until Mon 9, 08:00"),
    ],
)
def test_the_shop_is_open_or_shut_until_when(owner: FlaskClient, clock: Clock, at: str, says: str) -> None:
    clock.moment = datetime.fromisoformat(at).replace(tzinfo=ZONE)
    assert head(owner).startswith(f"{says}</span>")


def test_a_lunch_break_is_a_closing(owner: FlaskClient, db: Session, shop: Shop) -> None:
    replace_hours(db, shop, None, [(1, 480, 720), (1, 900, 1020)])
    db.commit()
    assert head(owner).startswith("shut until 15:00")


def test_days_shut_and_extra_hours_count(owner: FlaskClient, db: Session, shop: Shop) -> None:
    db.add(Closed(shop_id=shop.id, first_on=date(2026, 2, 3), last_on=date(2026, 2, 8)))
    db.add(Extra(shop_id=shop.id, on_day=date(2026, 2, 7), opens=540, closes=720))
    db.commit()
    assert head(owner).startswith("shut until Sat 7, 09:00")


def test_hours_past_midnight_are_one(owner: FlaskClient, db: Session, shop: Shop) -> None:
    replace_hours(db, shop, None, [(1, 780, 1440), (2, 0, 120)])
    db.commit()
    assert head(owner).startswith("open until Wed 4, 02:00")


def test_a_shop_that_never_shuts_is_open(owner: FlaskClient, db: Session, shop: Shop) -> None:
    replace_hours(db, shop, None, [(day, 0, 1440) for day in range(7)])
    db.commit()
    assert head(owner).startswith("open</span>")


def test_a_shop_that_never_opens_is_shut(owner: FlaskClient, db: Session, shop: Shop) -> None:
    replace_hours(db, shop, None, [])
    db.commit()
    assert head(owner).startswith("shut</span>")


def test_the_last_reading_is_shown_for_twelve_hours(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    assert "how warm is it?" in head(owner)
    db.add(Reading(shop_id=shop.id, at=START - timedelta(hours=1), temperature=16.5, humidity=52.0))
    db.add(Reading(shop_id=shop.id, at=START - timedelta(hours=2), temperature=10.0))
    db.commit()
    assert "61.7 °F, 52 %" in head(owner)
    clock.forward(hours=11)
    assert "how warm is it?" in head(owner)
