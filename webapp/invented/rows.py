"""From the tables to rows: the shop with all that stands in it, and each build with its operations, parts and money."""

from datetime import date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Hold, Link, Operation, Part
from webapp.costs.models import Payment, Terms
from webapp.invented import place
from webapp.invented.script import US, Bill, Piece, Step
from webapp.invented.sizes import in_units
from webapp.invented.timeline import Laid
from webapp.people.models import Person
from webapp.products import actions as products
from webapp.products.models import Product
from webapp.shops.models import HELPER, OWNER, Equipment, Maker, Opening, Rate, Reading, Room, Shop
from webapp.stock.models import Material
from webapp.trade import lengths
from webapp.trade.money import share_out, times
from webapp.trade.products.families import OUT_OF_CLAMPS

FRIDAY = 4
CENTS = 100  # both currencies of the invented shop have them


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


def stand(db: Session, person: Person, zone: str, now: datetime) -> Stand:
    """Add the shop, its people, hours, rates, rooms, equipment, products and readings."""
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
    db.add_all(_reading(shop, now, *reading) for reading in place.READINGS)
    db.flush()
    return Stand(db, shop, owner, helper, now)


def _reading(shop: Shop, now: datetime, ago: float, celsius: float, humidity: float) -> Reading:
    at = now - timedelta(hours=ago)
    return Reading(shop_id=shop.id, at=at, temperature=celsius, unit=shop.temperature_unit, humidity=humidity)


def add_build(db: Session, stand: Stand, laid: Laid) -> tuple[Build, dict[str, Operation]]:
    """Add a build with its operations, parts, bills, price and payments; returns it and its operations by key."""
    piece, today = laid.piece, stand.now.astimezone(stand.zone).date()
    begun = laid.begun.date()
    due = today + timedelta(days=piece.due) if piece.due is not None else None
    if piece.due_after is not None:
        due = begun + timedelta(days=piece.due_after)
    build = Build(
        shop_id=stand.shop.id,
        name=piece.name,
        client=piece.client,
        contact=piece.contact,
        wood=piece.wood,
        note=stand.said(piece.note),
        status=piece.status,
        due_on=_workday(due),
        weight=piece.weight,
        done_at=[{"operation": key, "stage": stage} for key, stage in piece.hand_over] or None,
        delivered_on=laid.delivered,
        created_at=laid.begun,
    )
    db.add(build)
    db.flush()
    rows = _operations(db, stand, build, piece)
    db.add_all(_parts(stand, build, piece))
    db.add_all(_bill(stand, build, laid, bill) for bill in piece.bills)
    db.add_all(_money(build, laid))
    db.flush()
    return build, rows


def _workday(day: date | None) -> date | None:
    """Nobody promises a Sunday: the Friday before a weekend."""
    return None if day is None else day - timedelta(days=max(0, day.weekday() - FRIDAY))


def _operations(db: Session, stand: Stand, build: Build, piece: Piece) -> dict[str, Operation]:
    rows = {step.key: _operation(stand, build, step, number) for number, step in enumerate(piece.steps, 1)}
    db.add_all(rows.values())
    db.flush()
    for step in piece.steps:
        row = rows[step.key]
        for name in step.after:
            earlier, _, stage = name.partition(": ")
            row.after.append(Link(waits_for_id=rows[earlier].id, stage=stage or None))
        row.over_id = rows[step.over].id if step.over else None
        row.again_for_id = rows[step.again_for].id if step.again_for else None
    db.flush()
    return rows


def _operation(stand: Stand, build: Build, step: Step, number: int) -> Operation:
    room = place.FINISHING_ROOM if step.kind == "coat" else place.SHOP_ROOM
    return Operation(
        shop_id=build.shop_id,
        build_id=build.id,
        key=step.key,
        name=step.name,
        group=step.group,
        kind=step.kind,
        position=number,
        minutes=step.minutes,
        low=step.low,
        high=step.high,
        count=step.count,
        assembly_minutes=step.assembly,
        room_id=stand.rooms[room],
        product_id=stand.products[step.product].id if step.product else None,
        stages=[{"name": name, "hours": hours} for name, hours in step.own] or None,
        holds=[
            Hold(equipment_id=stand.equipment[name], count=count, until=OUT_OF_CLAMPS) for name, count in step.holds
        ],
    )


def _parts(stand: Stand, build: Build, piece: Piece) -> list[Part]:
    unit = stand.shop.length_unit
    parts = []
    for number, cut in enumerate(piece.cuts, 1):
        part = Part(
            shop_id=build.shop_id,
            build_id=build.id,
            position=number,
            name=cut.name,
            count=cut.count,
            wood=piece.wood,
            note=stand.said(cut.note),
        )
        for name, text in zip(("thickness", "width", "length"), cut.sizes(unit), strict=True):
            size = lengths.read(text, unit)
            setattr(part, f"{name}_typed", size.entered)
            setattr(part, f"{name}_nm", size.nanometres)
        parts.append(part)
    return parts


def _bill(stand: Stand, build: Build, laid: Laid, bill: Bill) -> Material:
    unit = stand.shop.length_unit
    amount = bill.amount(unit)
    quantity, price = amount.numbers
    bought = min(laid.begun + timedelta(days=bill.days), stand.now).astimezone(stand.zone).date()
    return Material(
        shop_id=build.shop_id,
        build_id=build.id,
        kind=bill.kind,
        name=bill.name,
        quantity=quantity,
        unit=amount.unit,
        unit_price=price,
        total_minor=times(quantity, price, stand.shop.currency),
        supplier=bill.supplier,
        bought_on=bought,
        thickness_typed=bill.sizes[1] if unit == US else bill.sizes[0],
        pieces=bill.pieces,
    )


def _money(build: Build, laid: Laid) -> list[Terms | Payment]:
    piece = laid.piece
    if piece.price is None:
        return []
    price = piece.price * CENTS
    amounts = share_out(price, [stage.percent for stage in piece.stages])
    found: list[Terms | Payment] = [
        Terms(
            shop_id=build.shop_id,
            build_id=build.id,
            price_minor=price,
            consumables_percent=Decimal(piece.consumables),
        )
    ]
    for number, (stage, amount) in enumerate(zip(piece.stages, amounts, strict=True), 1):
        start = laid.delivered if stage.from_delivery else laid.begun.date()
        paid = start + timedelta(days=stage.paid) if stage.paid is not None and start else None
        found.append(
            Payment(
                shop_id=build.shop_id,
                build_id=build.id,
                position=number,
                name=stage.name,
                percent=Decimal(stage.percent),
                amount_minor=amount,
                paid_on=paid,
            )
        )
    return found
