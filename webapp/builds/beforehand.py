"""What is to be known before an operation is begun: what goes badly together, tins too old, cautions.

It reminds and keeps nobody from anything. What is worked out of words is kept, for a page asks it of every operation.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Protocol

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation, Part
from webapp.builds.steps import Step
from webapp.products.models import Tin
from webapp.products.tins import Looked, look, tins_of
from webapp.trade.cautions.work import Caution, caution, for_operation, for_piece
from webapp.trade.clashes.compatibility import Clash, Layer, clashes

_clashes = lru_cache(maxsize=4000)(clashes)
HANDED_OVER = ("design", "fit hardware", "deliver")  # where what the whole piece asks for is in time


class Called(Protocol):
    """A product by what it is called and what it says it is."""

    @property
    def name(self) -> str: ...

    @property
    def family(self) -> str: ...


@dataclass(frozen=True)
class Used:
    """A product of the build, with those of its tins that something is wrong with."""

    layer: Layer
    tins: tuple[Looked, ...]


@dataclass(frozen=True)
class Known:
    """What of a build bears on what goes together: its name, its woods, its products, the notes of its operations."""

    name: str
    wood: str
    products: Mapping[int, Used]
    notes: Mapping[int, str]


@dataclass(frozen=True)
class Beforehand:
    """What is to be known before one operation."""

    product: str
    clashes: tuple[Clash, ...]
    tins: tuple[Looked, ...]
    cautions: tuple[Caution, ...]

    @property
    def stops(self) -> bool:
        """Whether it is worth a look before the tin is opened: what speaks of the product, or of its tin."""
        return bool(self.tins) or any(clash.product for clash in self.clashes)

    @property
    def fails(self) -> bool:
        """Whether there is no tin of it that will do."""
        return any(fault.fails for one in self.tins for fault in one.faults)


def known_of(
    db: Session, build_id: int, products: Mapping[int, Called], opened: Collection[int], now: datetime
) -> Known:
    """Return what of a build bears on what goes together, in three queries and its row; `now` in the shop's zone.

    Takes all products that it uses, and those of them that are still to be opened: only their tins are looked at.
    """
    build = db.get_one(Build, build_id)
    woods = select(Part.wood).where(Part.build_id == build_id, Part.wood != "").distinct().order_by(Part.wood)
    noted = select(Operation.id, Operation.note).where(Operation.build_id == build_id, Operation.note != "")
    tins = tins_of(db, opened)
    used = {key: Used(Layer(one.name, one.family), _wrong(one, tins[key], now)) for key, one in products.items()}
    found: list[tuple[int, str]] = [(key, note) for key, note in db.execute(noted)]
    return Known(build.name, ", ".join([build.wood, *db.scalars(woods)]), used, dict(found))


def _wrong(product: Called, tins: Iterable[Tin], now: datetime) -> tuple[Looked, ...]:
    """Nothing where one of them is good: that is the one to take."""
    found = look(product.name, product.family, tins, now)
    return () if any(not one.faults for one in found) else tuple(found)


def beforehand(known: Known, step: Step, steps: Mapping[int, Operation | Step]) -> Beforehand:
    """Return what is to be known before a step among the others of its build."""
    words = f"{step.name} {step.group} {known.notes.get(step.id, '')}"
    under = below([step.over_id], [link.waits_for_id for link in step.after], step.group, steps)
    return for_work(known, step.kind, step.product_id, under, words)


def for_work(known: Known, kind: str, product_id: int | None, under: Iterable[int], words: str) -> Beforehand:
    """Return what is to be known before work of a kind with a product over others; `words` is what was written."""
    used = known.products.get(product_id or 0)
    layer = used.layer if used else None
    layers = tuple(known.products[key].layer for key in under if key in known.products)
    return Beforehand(
        product=layer.name if layer else "",
        clashes=_clashes(layer, layers, species=known.wood, kind=kind, words=words, piece=known.name),
        tins=used.tins if used else (),
        cautions=_cautions(kind, layer, known.wood, words, known.name if kind in HANDED_OVER else ""),
    )


def below(
    over: Iterable[int | None], after: Iterable[int], group: str, steps: Mapping[int, Operation | Step]
) -> list[int]:
    """Return the products under work that goes over some operations and waits for others of the same part."""
    found: dict[int, None] = {}
    seen: set[int] = set()
    todo = [*_steps(over, steps), *_of_the_part(_steps(after, steps), group)]
    while todo:
        lower = todo.pop(0)
        if lower.id not in seen:
            seen.add(lower.id)
            if lower.product_id is not None:
                found[lower.product_id] = None
            todo += _steps([lower.over_id], steps)
            todo += _of_the_part(_steps([link.waits_for_id for link in lower.after], steps), group)
    return list(found)


def _steps(keys: Iterable[int | None], steps: Mapping[int, Operation | Step]) -> list[Operation | Step]:
    return [steps[key] for key in keys if key is not None and key in steps]


def _of_the_part(found: Iterable[Operation | Step], group: str) -> Iterator[Operation | Step]:
    return (one for one in found if not group or not one.group or one.group == group)


@lru_cache(maxsize=4000)
def _cautions(kind: str, product: Layer | None, wood: str, words: str, piece: str) -> tuple[Caution, ...]:
    name, family = (product.name, product.family) if product else ("", "")
    keys = (*for_operation(kind, name, family, wood, words), *for_piece(piece))
    return tuple(caution(key) for key in keys)
