"""What an operation's form offers: the other operations with their stages, rooms, products, equipment."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Link, Operation
from webapp.builds.operations_form import HOLDS, WAITS, OperationForm
from webapp.builds.waiting import merged
from webapp.products.models import NEWEST, Figures, Product
from webapp.shops.models import Equipment, Room
from webapp.trade.kinds import KINDS
from webapp.web.choices import Choices

Pairs = list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Usable:
    """What the form needs of a product, by its newest figures."""

    id: int
    name: str
    family: str
    use: str
    retired: bool
    stages: list[Any] | None


USABLE = (
    select(Product.id, Product.name, Product.family, Product.use, Product.retired, Figures.data["stages"])
    .join(Figures, (Figures.product_id == Product.id) & (Figures.number == NEWEST))
    .order_by(Product.use, Product.name)
)


@dataclass(frozen=True)
class Offers:
    """What there is to choose from, for a new operation of a build or for one that is changed."""

    build: Build
    itself: Operation | None
    rooms: Pairs
    known: Sequence[Usable]  # products, and those retired that an operation of the build uses
    equipment: Pairs

    @property
    def products(self) -> list[Usable]:
        mine = self.itself.product_id if self.itself else None
        return [one for one in self.known if not one.retired or one.id == mine]

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
        return merged(*(product.stages for product in self.products), *(one.stages for one in self.build.operations))

    @cached_property
    def _by_id(self) -> dict[int | None, Usable]:
        return {one.id: one for one in self.known}

    def stages_of(self, operation: Operation) -> list[str]:
        """Return the named points of an operation's wait: its product's, then its own."""
        product = self._by_id.get(operation.product_id)
        return merged(product.stages if product else None, operation.stages)

    def product(self, key: str | None) -> Usable | None:
        return next((product for product in self.products if str(product.id) == key), None)

    def waits(self) -> Pairs:
        """Each other operation's end and stages; what this one waits for already is among them in any case."""
        pairs = [
            (f"{one.id}:{stage}" if stage else str(one.id), f"{one.name}: {stage or 'done'}")
            for one in self.others
            for stage in ("", *self.stages_of(one))
        ]
        known = {value for value, _ in pairs}
        kept = [link for link in (self.itself.after if self.itself else ()) if wait_value(link) not in known]
        gone = [(wait_value(link), f"{link.waits_for.name}: {link.stage} (has no such wait now)") for link in kept]
        return pairs + gone


def wait_value(link: Link) -> str:
    return f"{link.waits_for_id}:{link.stage}" if link.stage else str(link.waits_for_id)


def offers(db: Session, build: Build, itself: Operation | None = None) -> Offers:
    """Return what may be chosen; the build's operations are to be loaded."""
    used = {one.product_id for one in build.operations} - {None}
    products = USABLE.where(Product.shop_id == build.shop_id, or_(~Product.retired, Product.id.in_(used)))
    rooms = select(Room.id, Room.name).where(Room.shop_id == build.shop_id).order_by(Room.id)
    equipment = select(Equipment.id, Equipment.name).where(Equipment.shop_id == build.shop_id)
    return Offers(
        build,
        itself,
        [(str(key), name) for key, name in db.execute(rooms)],
        [Usable(*row) for row in db.execute(products)],
        [(str(key), name) for key, name in db.execute(equipment.order_by(Equipment.name))],
    )


def put_into(form: OperationForm, offered: Offers) -> None:
    """Put the choices into the form's fields."""
    form.product_id.offer([("", "none"), *((str(one.id), one.name, one.use) for one in offered.products)])
    form.room_id.offer(offered.rooms or [("", "the shop")])
    form.room_id.data = form.room_id.data or (offered.rooms[0][0] if offered.rooms else "")
    others = [(str(one.id), one.name) for one in offered.others]
    form.over_id.offer([("", "no other layer"), *others])
    form.again_for_id.offer([("", "nothing"), *others])
    waits, equipment = Choices([("", "nothing"), *offered.waits()]), Choices([("", "nothing"), *offered.equipment])
    for number in WAITS:
        form.choice(f"wait_{number}").offer(waits)
    for number in HOLDS:
        form.choice(f"hold_{number}").offer(equipment)
