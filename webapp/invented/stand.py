"""The shop as it stands: its people, hours, rooms, equipment, products, air and shelves."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.invented import place
from webapp.invented.air import readings
from webapp.invented.shelf import CANS, Can
from webapp.invented.sizes import in_units
from webapp.people.models import Person
from webapp.products import actions as products
from webapp.products.models import Product, Tin
from webapp.shops.models import HELPER, OWNER, Equipment, Maker, Opening, Rate, Reading, Room, Shop

FRIDAY = 4
LOOKED_AT = time(11, 20)


class Stand:
    """The shop as it stands: its row, and what is found in it by name."""

    def __init__(self, db: Session, shop: Shop, owner: Maker, helper: Maker, now: datetime) -> None:
        self.shop, self.owner, self.helper, self.now = shop, owner, helper, now
        self.zone = ZoneInfo(shop.time_zone)
        self.products = {row.name: row for row in db.scalars(select(Product).where(Product.shop_id == shop.id))}
        self.rooms = {row.name: row.id for row in db.scalars(select(Room).where(Room.shop_id == shop.id))}
        self.equipment = {row.name: row.id for row in db.scalars(select(Equipment).where(Equipment.shop_id == shop.id))}

    def said(self, text: str) -> str:
        """Return a text of the tables with its sizes in the shop's units."""
        return in_units(text, self.shop.length_unit, self.shop.temperature_unit)

    def by_day(self, moment: datetime) -> datetime:
        """Return when wood was looked at on that day, or on the Friday before it; never later than now."""
        found = datetime.combine(workday(moment.astimezone(self.zone).date()), LOOKED_AT, self.zone).astimezone(UTC)
        return min(found, self.now - timedelta(hours=1))


def workday(day: date) -> date:
    """Return the day, the Friday before where it falls on a weekend: nobody promises or sells on a Sunday."""
    return day - timedelta(days=max(0, day.weekday() - FRIDAY))


def stand(db: Session, person: Person, zone: str, now: datetime) -> Stand:
    """Add the shop, its people, hours, rates, rooms, equipment, products, readings and tins."""
    shop = Shop(**place.settings(zone, now))
    db.add(shop)
    db.flush()
    owner = Maker(shop_id=shop.id, person_id=person.id, name=person.name, role=OWNER)
    helper = Maker(shop_id=shop.id, name=place.HELPER_NAME, role=HELPER)
    db.add_all([owner, helper])
    db.flush()
    today = now.astimezone(shop.zone).date()
    for maker, rates in ((owner, place.OWNER_RATES), (helper, place.HELPER_RATES)):
        maker.rates = [Rate(from_on=today - timedelta(days=ago), hour_minor=minor) for ago, minor in rates]
    db.add_all(Opening(shop_id=shop.id, weekday=day, opens=a, closes=b) for day, a, b in place.WEEK)
    db.add_all(
        Opening(shop_id=shop.id, maker_id=helper.id, weekday=day, opens=a, closes=b) for day, a, b in place.HELPER_WEEK
    )
    db.add_all(Equipment(shop_id=shop.id, name=name, count=count) for name, count in place.EQUIPMENT)
    db.add_all(
        Room(shop_id=shop.id, name=name, drying_places=places, settle_minutes=settle)
        for name, places, settle in place.ROOMS
    )
    products.seed(db, shop, now)
    db.flush()
    found = Stand(db, shop, owner, helper, now)
    db.add_all(_readings(found))
    db.add_all(_tin(found, can) for can in CANS)
    db.flush()
    return found


def _readings(stand: Stand) -> list[Reading]:
    shop = stand.shop
    return [
        Reading(
            shop_id=shop.id,
            room_id=stand.rooms[room] if room else None,
            at=at,
            temperature=celsius,
            unit=shop.temperature_unit,
            humidity=humidity,
        )
        for at, room, celsius, humidity in readings(stand.zone, stand.now)
    ]


def _tin(stand: Stand, can: Can) -> Tin:
    today = stand.now.astimezone(stand.zone).date()
    days = {
        "made_on": can.made,
        "opened_on": can.opened,
        "gone_on": can.gone,
        "use_by": None if can.good is None else -can.good,
    }
    return Tin(
        shop_id=stand.shop.id,
        product_id=stand.products[can.product].id,
        batch=can.batch,
        **{name: None if ago is None else today - timedelta(days=ago) for name, ago in days.items()},
    )
