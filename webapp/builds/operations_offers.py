"""What an operation's form offers: the other operations with their stages, rooms, products, equipment."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, selectinload

from webapp.builds.models import Build, Link, Operation
from webapp.builds.operations_form import HOLDS, WAITS, OperationForm
from webapp.builds.waiting import merged, stage_names
from webapp.products.models import Product
from webapp.shops.models import Equipment, Room
from webapp.trade.kinds import KINDS

Pairs = list[tuple[str, str]]


@dataclass(frozen=True)
class Offers:
    """What there is to choose from, for a new operation of a build or for one that is changed."""

    build: Build
    itself: Operation | None
    rooms: Sequence[Room]
    products: Sequence[Product]
    equipment: Sequence[Equipment]

    @property
    def others(self) -> list[Operation]:
        return [one for one in self.build.operations if one is not self.itself]

    @property
    def groups(self) -> list[str]:
        return list(dict.fromkeys(one.group for one in self.build.operations if one.group))

    @property
    def kinds(self) -> list[str]:
        return [kind.name for kind in KINDS]

    @property
    def stages(self) -> list[str]:
        """The stages of all products and of this build, to choose from while typing."""
        of_products = [product.current.data.get("stages") or [] for product in self.products]
        return merged(*of_products, *(one.stages or [] for one in self.build.operations))

    def product(self, key: str | None) -> Product | None:
        return next((product for product in self.products if str(product.id) == key), None)

    def waits(self) -> Pairs:
        """Each other operation's end and stages; what this one waits for already is among them in any case."""
        pairs = [
            (f"{one.id}:{stage}" if stage else str(one.id), f"{one.name}: {stage or 'done'}")
            for one in self.others
            for stage in ("", *stage_names(one))
        ]
        known = {value for value, _ in pairs}
        kept = [link for link in (self.itself.after if self.itself else ()) if wait_value(link) not in known]
        gone = [(wait_value(link), f"{link.waits_for.name}: {link.stage} (has no such wait now)") for link in kept]
        return pairs + gone


def wait_value(link: Link) -> str:
    return f"{link.waits_for_id}:{link.stage}" if link.stage else str(link.waits_for_id)


def offers(db: Session, build: Build, itself: Operation | None = None) -> Offers:
    """Return what may be chosen; the build's operations are to be loaded."""
    mine = itself.product_id if itself else None
    products = (
        select(Product)
        .where(Product.shop_id == build.shop_id, or_(~Product.retired, Product.id == mine))
        .order_by(Product.use, Product.name)
        .options(selectinload(Product.figures))
    )
    return Offers(
        build,
        itself,
        db.scalars(select(Room).where(Room.shop_id == build.shop_id).order_by(Room.id)).all(),
        db.scalars(products).all(),
        db.scalars(select(Equipment).where(Equipment.shop_id == build.shop_id).order_by(Equipment.name)).all(),
    )


def put_into(form: OperationForm, offered: Offers) -> None:
    """Put the choices into the form's fields."""
    form.product_id.offer([("", "none"), *((str(one.id), one.name, one.use) for one in offered.products)])
    form.room_id.offer([(str(one.id), one.name) for one in offered.rooms] or [("", "the shop")])
    form.room_id.data = form.room_id.data or (str(offered.rooms[0].id) if offered.rooms else "")
    others = [(str(one.id), one.name) for one in offered.others]
    form.over_id.offer([("", "no other layer"), *others])
    form.again_for_id.offer([("", "nothing"), *others])
    waits, equipment = offered.waits(), [(str(one.id), one.name) for one in offered.equipment]
    for number in WAITS:
        form.choice(f"wait_{number}").offer([("", "nothing"), *waits])
    for number in HOLDS:
        form.choice(f"hold_{number}").offer([("", "nothing"), *equipment])
