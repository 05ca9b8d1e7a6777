"""Who is asking, and in which shop they stand; what a new shop begins with; what the shop's pages load and set."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from flask import abort, current_app
from flask import session as cookie
from sqlalchemy import Select, delete, func, or_, select
from sqlalchemy.exc import DBAPIError, IntegrityError
from sqlalchemy.orm import Session

from webapp.db.base import Base
from webapp.db.held import held
from webapp.db.session import session, sessions
from webapp.db.trouble import trouble_of
from webapp.people import actions as people
from webapp.people.models import Person, SignIn
from webapp.shops.models import OWNER, Maker, Opening, Reading, Room, Shop
from webapp.trade.air.readings import HOLDS
from webapp.web.clock import now
from webapp.web.guard import ShopFacts, Visitor, visitor

WEEKDAYS = range(5)
READING_HOLDS = timedelta(minutes=HOLDS)


def identify() -> Visitor | None:
    """Return who is asking, from the cookie; on the server's own computer the only owner needs none."""
    with sessions().read() as db:
        found = people.current(db, now())
        if found:
            who = _visitor(db, found)
            return who if found.seen_at > now() - people.SEEN_AGAIN else _seen(found.id, who)
        owner = people.sole_owner_here(db) if people.is_on_this_computer() else None
    if owner is None:
        return None
    with sessions().write() as db, db.begin():
        return _visitor(db, people.begin(db, db.get_one(Person, owner.id), now()))


def _seen(sign_in: int, who: Visitor) -> Visitor:
    """Note that somebody is here again. A disk that cannot be written to is no reason to show them nothing."""
    try:
        with sessions().write() as db, db.begin():
            db.get_one(SignIn, sign_in).seen_at = now()
    except DBAPIError as error:
        if trouble_of(error) is None:
            raise
    return who


def _visitor(db: Session, sign_in: SignIn) -> Visitor:
    person = sign_in.person
    rows = db.execute(_places(person.id)).all()
    if not rows:
        return Visitor(person.id, person.name, sign_in.id)
    wanted = cookie.get("shop")
    maker, shop = next((row for row in rows if row.Shop.id == wanted), rows[-1])
    return Visitor(person.id, person.name, sign_in.id, facts(shop), maker.id, maker.role)


def _places(person_id: int) -> Select[Maker, Shop]:
    return (
        select(Maker, Shop)
        .join(Shop, Maker.shop_id == Shop.id)
        .where(Maker.person_id == person_id, Maker.left_on.is_(None))
        .order_by(Shop.id)
    )


def facts(shop: Shop) -> ShopFacts:
    return ShopFacts(
        shop.id,
        shop.name,
        ZoneInfo(shop.time_zone),
        shop.currency,
        shop.length_unit,
        shop.temperature_unit,
        shop.is_invented,
    )


def shops_of(db: Session, person_id: int) -> list[Shop]:
    """Return the shops somebody works in, the oldest first."""
    return [row.Shop for row in db.execute(_places(person_id))]


def is_known_elsewhere(db: Session, maker: Maker) -> bool:
    """Return whether the account of a maker leads into another shop, or did: who left may come back."""
    others = select(Maker.id).where(Maker.person_id == maker.person_id, Maker.id != maker.id)
    return db.scalar(others.limit(1)) is not None


def enter(shop: Shop) -> None:
    """Let the visitor stand in this shop from the next page on."""
    cookie["shop"] = shop.id


def new_shop(db: Session, shop: Shop, owner: Person, at: datetime) -> Maker:
    """Add a shop with what every shop has: its owner as maker, one room, weekdays from 8 to 17."""
    shop.created_at = at
    db.add(shop)
    db.flush()
    maker = Maker(shop_id=shop.id, person_id=owner.id, name=owner.name, role=OWNER)
    db.add_all([maker, Room(shop_id=shop.id, name="Shop")])
    db.add_all(Opening(shop_id=shop.id, weekday=day, opens=8 * 60, closes=17 * 60) for day in WEEKDAYS)
    for prepare in current_app.extensions.get("new_shop", ()):
        prepare(db, shop, at)
    db.flush()
    return maker


def this_shop(*, lock: bool = False) -> Shop:
    """Return the shop the visitor stands in; locked, two who change its settings come one after the other."""
    return shop_of(session(), visitor().shop.id, lock=lock)


def shop_of(db: Session, shop_id: int, *, lock: bool = False) -> Shop:
    """Return a shop by its id; asked for again, the database is not."""
    found = db.get_one(Shop, shop_id, with_for_update=lock)
    held(db)["shop"] = found  # a session forgets rows that nobody holds
    return found


def this_maker(key: int) -> Maker:
    """Return a maker of this shop, with the shop locked, or answer 404."""
    shop = this_shop(lock=True)
    found = session().scalar(select(Maker).where(Maker.id == key, Maker.shop_id == shop.id))
    return found if found is not None else abort(404)


def replace_hours(db: Session, shop: Shop, maker: Maker | None, hours: Iterable[tuple[int, int, int]]) -> None:
    """Set the weekly hours of a shop, or of one maker instead of them: (weekday, opens, closes)."""
    whose = Opening.maker_id.is_(None) if maker is None else Opening.maker_id == maker.id
    db.execute(delete(Opening).where(Opening.shop_id == shop.id, whose))
    db.add_all(
        Opening(shop_id=shop.id, maker_id=maker.id if maker else None, weekday=day, opens=opens, closes=closes)
        for day, opens, closes in hours
    )


def is_last_owner(maker: Maker) -> bool:
    """Return whether nobody else could change the shop's settings."""
    others = select(func.count()).where(
        Maker.shop_id == maker.shop_id, Maker.id != maker.id, Maker.role == OWNER, Maker.left_on.is_(None)
    )
    others = others.where(Maker.person_id.is_not(None))
    return maker.role == OWNER and maker.left_on is None and not session().scalar(others)


def delete_unless_held(db: Session, row: Base) -> bool:
    """Delete a row, unless something in a later room holds it; returns whether it is gone."""
    try:
        with db.begin_nested():
            db.delete(row)
            db.flush()
    except IntegrityError:
        return False
    return True


def reading_now(db: Session, shop_id: int, at: datetime) -> Reading | None:
    """Return the newest reading of the shop's air, while it still says something about now."""
    newest = (
        select(Reading)
        .where(Reading.shop_id == shop_id, Reading.at > at - READING_HOLDS, Reading.at <= at)
        .where(or_(Reading.temperature.is_not(None), Reading.humidity.is_not(None)))
    )
    return db.scalar(newest.order_by(Reading.room_id.is_not(None), Reading.at.desc(), Reading.id.desc()).limit(1))
