"""Beginning a build by methods: their steps become operations, with what this shop has in the place of their words."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from webapp.builds.keys import key_for
from webapp.builds.methods import CLAMPS, RESTED, USUAL_HOURS, Step, chained, last_coat
from webapp.builds.models import Build, Hold, Link, Operation
from webapp.builds.waiting import stage_names
from webapp.db.folding import fold
from webapp.products.models import Product
from webapp.shops.models import Equipment, Room
from webapp.trade.products.families import LIGHT_USE, OUT_OF_CLAMPS


def begin(db: Session, build: Build, methods: Collection[str]) -> None:
    """Add the operations of the chosen methods to a new build."""
    steps = chained(methods)
    shelf = Shelf(db, build.shop_id)
    rows: dict[str, Operation] = {}
    for step in steps:
        rows[step.key] = shelf.operation(build, step, {row.key for row in rows.values()}, len(rows) + 1)
    _give_waits(steps, rows)
    db.add_all(rows.values())
    db.flush()
    for step in steps:
        rows[step.key].after.extend(Link(waits_for_id=rows[w.step].id, stage=w.stage) for w in step.after)
        rows[step.key].over_id = rows[step.over].id if step.over else None
    last = last_coat(steps)
    build.done_at = [{"operation": rows[last.key].key, "stage": LIGHT_USE}] if last else None
    build.made_by = ", ".join(methods)
    db.flush()


def _give_waits(steps: Sequence[Step], rows: Mapping[str, Operation]) -> None:
    """A stage that somebody waits for and the shop's product does not have becomes a wait of the operation's own."""
    last = last_coat(steps)
    wanted = [(wait.step, wait.stage) for step in steps for wait in step.after if wait.stage]
    wanted += [(step.key, OUT_OF_CLAMPS) for step in steps if step.clamps]
    wanted += [(last.key, LIGHT_USE)] if last else []
    for key, stage in dict.fromkeys(wanted):
        row = rows[key]
        if stage not in stage_names(row):
            row.stages = [*(row.stages or []), {"name": stage, "hours": USUAL_HOURS[stage]}]


class Shelf:
    """What a shop has to put in the place of a method's words."""

    def __init__(self, db: Session, shop_id: int) -> None:
        self.room = db.scalar(select(Room).where(Room.shop_id == shop_id).order_by(Room.id).limit(1))
        self.products = db.scalars(
            select(Product)
            .where(Product.shop_id == shop_id, ~Product.retired)
            .order_by(Product.id)
            .options(selectinload(Product.figures))
        ).all()
        self.clamps = [
            one
            for one in db.scalars(select(Equipment).where(Equipment.shop_id == shop_id).order_by(Equipment.id))
            if CLAMPS in fold(one.name)
        ]

    def operation(self, build: Build, step: Step, taken: Collection[str], position: int) -> Operation:
        return Operation(
            shop_id=build.shop_id,
            build_id=build.id,
            key=key_for(step.name, taken),
            name=step.name,
            group=step.group,
            kind=step.kind,
            position=position,
            minutes=step.minutes,
            count=step.count,
            assembly_minutes=step.assembly_minutes,
            room_id=self.room.id if self.room else None,
            product=self._product(step.product),
            stages=[{"name": RESTED, "hours": step.rests}] if step.rests else None,
            holds=self._clamps(step.clamps),
        )

    def _product(self, words: Iterable[str]) -> Product | None:
        for word in words:
            for product in self.products:
                if word in (product.name, product.family):
                    return product
        return None

    def _clamps(self, count: int) -> list[Hold]:
        if not count or not self.clamps:
            return []
        best = max(self.clamps, key=lambda one: min(one.count, count))
        return [Hold(equipment_id=best.id, count=max(1, min(best.count, count)), until=OUT_OF_CLAMPS)]
