"""What the form of an operation says of what was chosen in it: what goes badly together, and how long in clamps."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from webapp.builds.beforehand import Beforehand, below, for_work, known_of
from webapp.builds.operations_form import WAITS, OperationForm
from webapp.builds.operations_offers import Offers, Usable
from webapp.products.models import GLUE
from webapp.trade.products.durability import water_class
from webapp.trade.products.joints import Clamping, clampings
from webapp.web.guard import key_of


@dataclass(frozen=True)
class Chosen:
    """What is to be known of the choice; of a glue how long it stays in clamps by joint, and how it stands water."""

    product_id: int
    before: Beforehand
    joints: tuple[Clamping, ...]
    water: str


def chosen(db: Session, offered: Offers, form: OperationForm, now: datetime) -> Chosen | None:
    """Return what is to be said of the product in the form; nothing where there is none. `now` in the shop's zone."""
    product = offered.product(form.product_id.data)
    if product is None:
        return None
    steps = {one.id: one for one in offered.others}
    used = {product.id, *(one.product_id for one in steps.values())}
    products = {one.id: one for one in offered.known if one.id in used}
    known = known_of(db, offered.build.id, products, {product.id}, now)
    after = [_key(form[f"wait_{number}"].data) for number in WAITS]
    group = form.group.data or ""
    under = below([_key(form.over_id.data)], [key for key in after if key], group, steps)
    words = " ".join(filter(None, [form.name.data, group, form.note.data]))
    return Chosen(
        product.id,
        for_work(known, form.kind.data or "", product.id, under, words),
        clampings(product.name, product.family) if product.use == GLUE else (),
        _water(product),
    )


def _key(value: str | None) -> int | None:
    """The operation that a choice names, with or without a stage of it."""
    return key_of((value or "").partition(":")[0])


def _water(product: Usable) -> str:
    found = water_class(product.name, product.family)
    return found.says if found else ""
