"""From the tables to rows: each build with its operations, parts, wood, bills and money."""

from datetime import datetime, timedelta
from decimal import Decimal

from sqlalchemy.orm import Session

from webapp.builds.models import Build, Hold, Link, Operation
from webapp.costs.models import Payment, Terms
from webapp.invented import place
from webapp.invented.parts import parts, sizes
from webapp.invented.script import US, Bill, Piece, Step
from webapp.invented.shelf import BOARDS, BOARDS_AGO, BOARDS_WOOD
from webapp.invented.stand import Stand, workday
from webapp.invented.timeline import Laid
from webapp.invented.wood import Reads, add_house, add_leeways, add_watches
from webapp.stock.models import Material
from webapp.trade.money import share_out, times
from webapp.trade.products.families import OUT_OF_CLAMPS

CENTS = 100  # both currencies of the invented shop have them


def add_build(db: Session, stand: Stand, reads: Reads, laid: Laid) -> tuple[Build, dict[str, Operation]]:
    """Add a build with all that hangs on it but what happened; returns it and its operations by key."""
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
        due_on=workday(due) if due else None,
        weight=piece.weight,
        done_at=[{"operation": key, "stage": stage} for key, stage in piece.hand_over] or None,
        delivered_on=laid.delivered,
        created_at=laid.begun,
    )
    db.add(build)
    db.flush()
    rows = _operations(db, stand, build, piece)
    _add_wood(db, stand, reads, laid, build)
    db.add_all(sizes(stand, build, piece))
    db.add_all(_money(build, laid))
    db.flush()
    return build, rows


def _add_wood(db: Session, stand: Stand, reads: Reads, laid: Laid, build: Build) -> None:
    piece = laid.piece
    made, bills = parts(stand, build, piece), [_bill(stand, build.id, laid.begun, bill) for bill in piece.bills]
    db.add_all([*made, *bills])
    db.flush()
    for part, cut in zip(made, piece.cuts, strict=True):
        reads.add(db, part, cut.read, laid.begun, piece.wood)
        add_leeways(db, stand, part, cut)
        add_watches(db, stand, part, cut)
    for row, bill in zip(bills, piece.bills, strict=True):
        reads.add(db, row, bill.read, laid.begun, piece.wood)
    if piece.house is not None:
        add_house(db, stand, build, piece.house)


def add_boards(db: Session, stand: Stand, reads: Reads) -> None:
    """Add the boards on the shelf, which are for no piece yet, and what the meter showed."""
    came = stand.now - timedelta(days=BOARDS_AGO)
    row = _bill(stand, None, came, BOARDS)
    db.add(row)
    db.flush()
    reads.add(db, row, BOARDS.read, came, BOARDS_WOOD)


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


def _bill(stand: Stand, build_id: int | None, begun: datetime, bill: Bill) -> Material:
    unit = stand.shop.length_unit
    amount = bill.amount(unit)
    quantity, price = amount.numbers
    bought = workday(min(begun + timedelta(days=bill.days), stand.now).astimezone(stand.zone).date())
    return Material(
        shop_id=stand.shop.id,
        build_id=build_id,
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
