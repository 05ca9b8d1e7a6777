"""Who is asking, and in which shop they stand; what a new shop begins with."""

from datetime import datetime
from zoneinfo import ZoneInfo

from flask import current_app
from flask import session as cookie
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.db.session import sessions
from webapp.people import actions as people
from webapp.people.models import Person, SignIn
from webapp.shops.models import OWNER, Maker, Opening, Room, Shop
from webapp.web.clock import now
from webapp.web.guard import ShopFacts, Visitor

WEEKDAYS = range(5)


def identify() -> Visitor | None:
    """Return who is asking, from the cookie; on the server's own computer the only owner needs none."""
    with sessions().read() as db:
        found = people.current(db, now())
        if found and found.seen_at > now() - people.SEEN_AGAIN:
            return _visitor(db, found)
        owner = None if found else (people.sole_owner_here(db) if people.is_on_this_computer() else None)
    if found is None and owner is None:
        return None
    with sessions().write() as db, db.begin():
        if found:
            found = db.get_one(SignIn, found.id)
            found.seen_at = now()
        else:
            assert owner is not None
            found = people.begin(db, db.get_one(Person, owner.id), now())
        return _visitor(db, found)


def _visitor(db: Session, sign_in: SignIn) -> Visitor:
    person = sign_in.person
    rows = db.execute(
        select(Maker, Shop)
        .join(Shop, Maker.shop_id == Shop.id)
        .where(Maker.person_id == person.id, Maker.left_on.is_(None))
        .order_by(Shop.id)
    ).all()
    if not rows:
        return Visitor(person.id, person.name, sign_in.id)
    wanted = cookie.get("shop")
    maker, shop = next((row for row in rows if row.Shop.id == wanted), rows[-1])
    return Visitor(person.id, person.name, sign_in.id, facts(shop), maker.id, maker.role)


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
