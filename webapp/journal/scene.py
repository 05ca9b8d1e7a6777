"""What journal, operations and labels say together at one moment, loaded with a constant number of queries."""

from collections.abc import Callable, Collection, Hashable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from webapp.builds.models import PAST, Build, Operation
from webapp.builds.steps import Piece, Step, pieces_of
from webapp.db.kept import Kept
from webapp.journal.states import aired_from, states_of
from webapp.planning import network
from webapp.planning.airs import Airs
from webapp.planning.reading import product
from webapp.planning.record import OperationState
from webapp.products.models import Figures, Product
from webapp.shops.document import aired_shop
from webapp.shops.models import Shop
from webapp.trade.air.climate import History

CURES = timedelta(days=100)  # raw linseed oil, the slowest of the families, takes 90
NOTHING = network.Product("")
Told = TypeVar("Told")


@dataclass(frozen=True)
class Label:
    """One version of a product's figures."""

    id: int
    product_id: int
    number: int
    data: Mapping[str, Any]
    name: str
    family: str
    use: str

    @cached_property
    def product(self) -> network.Product:
        """The same as the planner reads it."""
        return product({**self.data, "name": self.name, "family": self.family})


class Once:
    """Keeps what is worked out of something that does not change."""

    @cached_property
    def _told(self) -> dict[Hashable, Any]:
        return {}

    def once(self, key: Hashable, make: Callable[[], Told]) -> Told:
        """Return what is worked out under a key, worked out the first time it is asked for."""
        if key not in self._told:
            self._told[key] = make()
        found: Told = self._told[key]
        return found


@dataclass(frozen=True)
class Stage(Once):
    """What stands in rows: builds with their steps, the labels of their products, and the air of the shop's rooms.

    Nothing in it needs a session, and no moment changes it.
    """

    pieces: Sequence[Piece]
    labels: Mapping[int, Label]
    shop: network.Shop
    rooms: Mapping[int, str]
    unit: str  # of temperatures, as the shop reads them

    @cached_property
    def builds(self) -> dict[int, Piece]:
        return {piece.id: piece for piece in self.pieces}

    @cached_property
    def operations(self) -> list[Step]:
        return [step for piece in self.pieces for step in piece.steps]

    @cached_property
    def by_id(self) -> dict[int, Step]:
        return {operation.id: operation for operation in self.operations}

    @cached_property
    def followers(self) -> dict[int, list[Step]]:
        """The operations that wait for each, by link or as the layer over it."""
        found: dict[int, list[Step]] = {}
        for operation in self.operations:
            for lower in {link.waits_for_id for link in operation.after} | {operation.over_id}:
                if lower is not None:
                    found.setdefault(lower, []).append(operation)
        return found

    @cached_property
    def again(self) -> dict[int, Step]:
        """The operation that does an abandoned one again: the first of them, as the plan has it."""
        return {op.again_for_id: op for op in reversed(self.operations) if op.again_for_id is not None}

    @cached_property
    def current(self) -> dict[int, Label]:
        """The newest figures of each product."""
        newest: dict[int, Label] = {}
        for label in sorted(self.labels.values(), key=lambda label: label.number):
            newest[label.product_id] = label
        return newest


@dataclass(frozen=True)
class Scene(Once):
    """What the journal says at one moment of what stands in rows."""

    now: datetime
    zone: ZoneInfo
    stage: Stage
    states: Mapping[int, OperationState]

    @cached_property
    def airs(self) -> Airs:
        """The air of the shop's rooms; a scene has its own, for it is laid as it is asked for."""
        return Airs(self.stage.shop)

    def air(self, step: Step) -> History:
        """The air of the room that a step is done and waits in."""
        return self.airs.of(self.room(step))

    def room(self, step: Step) -> str | None:
        return self.stage.rooms.get(step.room_id or 0)

    @property
    def builds(self) -> Mapping[int, Piece]:
        return self.stage.builds

    @property
    def operations(self) -> Sequence[Step]:
        return self.stage.operations

    @property
    def by_id(self) -> Mapping[int, Step]:
        return self.stage.by_id

    @property
    def followers(self) -> Mapping[int, Sequence[Step]]:
        return self.stage.followers

    @property
    def again(self) -> Mapping[int, Step]:
        return self.stage.again

    @cached_property
    def not_begun(self) -> OperationState:
        return OperationState(as_of=self.now)

    def state(self, operation: Operation | Step) -> OperationState:
        """Where an operation stands; `not_begun` where the journal tells nothing of it."""
        return self.states.get(operation.id) or self.not_begun

    def is_over(self, operation: Operation | Step) -> bool:
        """Whether nothing of its hands-on work is to come: it is done, or abandoned."""
        state = self.state(operation)
        return state.finished is not None or state.abandoned_at is not None

    def is_overtaken(self, operation: Operation | Step) -> bool:
        """Whether work that waits for an operation has begun: then nobody is asked about its wait any more."""
        return any(self.state(later).started is not None for later in self.followers.get(operation.id, ()))

    def step(self, operation: Operation) -> Step:
        """The step of a row that is to be written to."""
        return self.by_id[operation.id]

    def label(self, operation: Operation | Step) -> Label | None:
        """The figures a wait began with, else the newest of the operation's product."""
        if operation.product_id is None:
            return None
        kept = self.stage.labels.get(self.state(operation).figures or 0)
        if kept is not None and kept.product_id == operation.product_id:
            return kept
        return self.stage.current.get(operation.product_id)

    def product(self, operation: Operation | Step) -> network.Product:
        """The figures of the same, or those of nothing at all."""
        label = self.label(operation)
        return NOTHING if label is None else label.product


_stages: Kept[Stage] = Kept()


def set_up(
    db: Session,
    shop: Shop,
    pieces: Sequence[Piece],
    states: Mapping[int, OperationState],
    now: datetime,
    since: datetime | None = None,
) -> Stage:
    """Return these builds with the labels of their products and the air that their waits can have to do with.

    Of pieces that have left the shop only the air for what was done `since` then.
    """
    here = [step for piece in pieces if piece.status not in PAST for step in piece.steps]
    away = [step for piece in pieces if piece.status in PAST for step in piece.steps if _is_late(step, states, since)]
    return Stage(
        pieces,
        _labels(db, {step.product_id for piece in pieces for step in piece.steps} - {None}),
        aired_shop(shop, aired_from([*here, *away], states, now)),
        {room.id: room.name for room in shop.rooms},
        shop.temperature_unit,
    )


def _is_late(step: Step, states: Mapping[int, OperationState], since: datetime | None) -> bool:
    ended = states[step.id].finished if step.id in states else None
    return since is not None and ended is not None and ended > since


def of_build(db: Session, shop: Shop, build_id: int, now: datetime) -> Scene:
    """Return the scene of one build."""
    states = states_of(db, [build_id], now)

    def make() -> Stage:
        return set_up(db, shop, pieces_of(db, Build.id == build_id), states, now, now - CURES)

    return Scene(now, shop.zone, _stages.of(db, build_id, now, make), states)


def _labels(db: Session, products: Collection[int | None]) -> dict[int, Label]:
    return {one.id: one for one in labels_of(db, Figures.product_id.in_(products))} if products else {}


def labels_of(db: Session, *conditions: ColumnElement[bool]) -> list[Label]:
    """Return the versions of figures for which some conditions on them and their products hold; one query."""
    rows = db.execute(
        select(Figures.id, Figures.product_id, Figures.number, Figures.data, Product.name, Product.family, Product.use)
        .join(Product, Product.id == Figures.product_id)
        .where(*conditions)
    )
    return [Label(*row) for row in rows]
