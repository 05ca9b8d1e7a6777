"""The time there is to put a glue-up together: open time at the temperature of now, held against the dry run (TA04)."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from webapp.builds.models import Operation
from webapp.builds.steps import Step
from webapp.journal.models import Entry as Row
from webapp.journal.reading import read_mended
from webapp.journal.scene import Label, Scene, labels_of
from webapp.planning import instants
from webapp.planning.corrections import effective
from webapp.planning.network import Product as Figured
from webapp.products.models import GLUE, NEWEST, Figures, Product
from webapp.trade.products.families import closed_minutes
from webapp.trade.waits.assembly import Assembly, assembly, slower

GLUED = ("glue-up", "veneer", "bend")
SPREAD = "spread"
LATELY = timedelta(hours=12)
SOON = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class Other:
    """Another glue of the shop that stays open long enough, and for how many minutes at the temperature of now."""

    name: str
    open: float


@dataclass(frozen=True, slots=True)
class Gluing:
    """A glue-up: minutes of its dry run, what its glue gives at °C, and the glues that would give enough."""

    glue: str
    minutes: int | None
    given: Assembly | None
    temperature: float | None
    others: tuple[Other, ...] = ()

    @property
    def parts(self) -> int:
        """Into how many goes it has to be split: 1 where it fits, or where nobody knows."""
        return 1 if self.given is None or self.minutes is None else self.given.parts(self.minutes)

    @property
    def spare(self) -> float:
        return 0.0 if self.given is None or self.minutes is None else self.given.spare(self.minutes)


@dataclass(frozen=True, slots=True)
class Spread:
    """Glue that is on: when it was spread, until when it stays open, and until when clamps have to be tight.

    `left` are the whole minutes that it stays open from now on: None where that is over.
    """

    id: str
    at: datetime
    until: datetime
    closed_until: datetime | None
    left: int | None

    @property
    def soon(self) -> datetime:
        """When it is said that it is nearly over."""
        return self.until - SOON


def is_glued(operation: Operation | Step) -> bool:
    """Return whether an operation is one that glue is opened for."""
    return operation.product_id is not None and (operation.kind in GLUED or operation.assembly_minutes is not None)


def gluing(scene: Scene, step: Step, glues: Callable[[], Sequence[Label]]) -> Gluing | None:
    """Return the time there is for a glue-up; None for what is not glued. The shop's glues are asked for if need be."""
    label = scene.label(step)
    if label is None or label.use != GLUE or not is_glued(step):
        return None
    temperature = scene.air(step).at(instants.cut(scene.now)).temperature
    given = _given(label.product, temperature)
    found = Gluing(label.name, step.assembly_minutes, given, temperature)
    if given is None or step.assembly_minutes is None or found.parts == 1:
        return found
    times = {one.name: _given(one.product, temperature) for one in glues() if one.product_id != label.product_id}
    known = {name: one for name, one in times.items() if one is not None}
    others = tuple(Other(name, known[name].open) for name in slower(step.assembly_minutes, known))
    return Gluing(label.name, step.assembly_minutes, given, temperature, others)


def _given(product: Figured, temperature: float | None) -> Assembly | None:
    if product.open_minutes is None:
        return None
    return assembly(product.open_minutes, product.pace, temperature, closed_minutes(product.name, product.family or ""))


def glues_of(db: Session, shop_id: int) -> list[Label]:
    """Return the glues that a shop uses, with their newest figures; one query."""
    return labels_of(db, Product.shop_id == shop_id, Product.use == GLUE, ~Product.retired, Figures.number == NEWEST)


def last_spread(db: Session, shop_id: int, operation_id: int, now: datetime) -> Spread | None:
    """Return the glue that was spread last on an operation, within the last hours."""
    recent = Row.operation_id == operation_id, Row.kind == SPREAD, Row.at >= now - LATELY
    lines = effective(read_mended(db, shop_id, *recent))
    if not lines:
        return None
    line = lines[-1]
    closed = line.number("closed_seconds")
    until = line.at + timedelta(seconds=line.number("open_seconds") or 0)
    left = int((until - now).total_seconds() // 60) if until > now else None
    return Spread(line.id, line.at, until, None if closed is None else until + timedelta(seconds=closed), left)
