"""From rows to the shop as the planner sees it: every key of the shop part of the document."""

from datetime import date, timedelta

from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from webapp.planning import network
from webapp.planning.instants import cut
from webapp.shops.actions import replace_hours
from webapp.shops.document import planning_shop
from webapp.shops.models import HELPER, Closed, Equipment, Extra, Reading, Room, Shop


def test_every_key_of_the_shop_comes_through(db: Session, shop: Shop) -> None:
    replace_hours(db, shop, None, [*((day, 480, 720) for day in range(5)), (0, 780, 1440)])
    shop.least_minutes = 30
    shop.climate_day, shop.climate_night, shop.day_from, shop.day_to, shop.humidity = 18.0, 12.0, 360, 1440, 40.0
    factories.maker(db, shop, "Ada")
    ben = factories.maker(db, shop, "Ben", HELPER, signs_in=False)
    replace_hours(db, shop, ben, [(3, 780, 1020)])
    factories.maker(db, shop, "Gone").left_on = date(2026, 1, 1)
    loft = Room(shop_id=shop.id, name="Loft", drying_places=2, settle_minutes=45, climate_night=9.0)
    db.add_all(
        [
            loft,
            Closed(shop_id=shop.id, first_on=date(2026, 2, 16), last_on=date(2026, 2, 20), note="fair"),
            Extra(shop_id=shop.id, on_day=date(2026, 2, 21), opens=540, closes=780),
            Equipment(shop_id=shop.id, name="long clamps", count=8),
        ]
    )
    db.flush()
    late = START - timedelta(seconds=-40)
    db.add(Reading(shop_id=shop.id, room_id=loft.id, at=late, temperature=14.5, humidity=58.0, counts=False))
    db.add(Reading(shop_id=shop.id, at=START - timedelta(days=90), temperature=20.0, counts=True))
    db.commit()

    found = planning_shop(shop)

    assert found == network.Shop(
        time_zone="America/New_York",
        hours=(network.Opening((0, 1, 2, 3, 4), 480, 720), network.Opening((0,), 780, 1440)),
        closed=(network.Closed(date(2026, 2, 16), date(2026, 2, 20), "fair"),),
        extra=(network.Extra(date(2026, 2, 21), 540, 780),),
        makers=(network.Maker("Ada"), network.Maker("Ben", (network.Opening((3,), 780, 1020),))),
        named=True,
        least_minutes=30,
        equipment=(network.Equipment("long clamps", 8),),
        rooms=(
            network.Room("Shop"),
            network.Room("Loft", 2, 45, network.Climate(night=9.0)),
        ),
        climate=network.Climate(
            18.0,
            12.0,
            360,
            1440,
            40.0,
            (
                network.Reading(cut(START - timedelta(days=90)), 20.0),
                network.Reading(cut(START), 14.5, 58.0, "Loft", counts=False),
            ),
        ),
    )
    recent = planning_shop(shop, readings_from=START - timedelta(days=30))
    assert len(recent.climate.readings) == 1


def test_a_shop_that_everybody_left_still_has_a_plan(db: Session, shop: Shop) -> None:
    assert [maker.name for maker in planning_shop(shop).makers] == ["nobody"]


def test_another_shops_rows_stay_there(db: Session, shop: Shop) -> None:
    other = factories.shop(db, "Elsewhere")
    db.add(Equipment(shop_id=other.id, name="press", count=1))
    db.add(Reading(shop_id=other.id, at=START, temperature=1.0))
    db.commit()
    found = planning_shop(shop)
    assert found.equipment == ()
    assert found.climate.readings == ()
