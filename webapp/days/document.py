"""From rows to the shop document: the shop, the open builds with what the journal says of them, the figures in use."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from webapp.builds.document import Names, operation_fields
from webapp.builds.models import PAST, PLANNED, Build, Operation
from webapp.builds.steps import Piece, Step, pieces_of
from webapp.builds.waiting import merged
from webapp.journal.actions import states
from webapp.journal.layers import DRY, TACKY
from webapp.journal.models import Entry
from webapp.journal.states import aired_from
from webapp.planning import network
from webapp.planning.network import Document
from webapp.planning.reading import to_document
from webapp.planning.record import OperationState
from webapp.products.document import product_mapping
from webapp.products.models import Figures, Product
from webapp.shops.actions import shop_of
from webapp.shops.document import AROUND, planning_shop
from webapp.shops.models import Room, Shop

# what the planner is given of the shop comes from rows directly; the reader only wants something in its place
EMPTY_SHOP = {"time_zone": "UTC", "hours": [], "climate": {"day": 20, "night": 20}}


@dataclass(frozen=True)
class Open:
    """The open builds of a shop: the document, and what its names mean. Nothing in it needs a session."""

    document: Document
    builds: Mapping[str, Piece]
    operations: Mapping[tuple[str, str], Step]
    states: Mapping[int, OperationState]
    uses: Mapping[int, str] = field(default_factory=dict)  # of a product's id: glue, finish


ENDED = ("done", "abandoned")


def open_builds(db: Session, shop_id: int) -> list[Piece]:
    """Return the builds that are planned and have operations, in the order they were begun.

    What has left the shop is planned only while some of it is still to be done: ten years of deliveries are not.
    """
    ended = select(Entry.id).where(Entry.operation_id == Operation.id, Entry.kind.in_(ENDED)).exists()
    to_do = select(Operation.id).where(Operation.build_id == Build.id, ~ended).exists()
    ours = Build.shop_id == shop_id, Build.status.in_(PLANNED), Build.status.not_in(PAST) | to_do
    return [piece for piece in pieces_of(db, *ours) if piece.steps]


def shop_document(db: Session, shop_id: int, now: datetime) -> Open:
    """Return the shop document of a shop at a moment, and what its names mean."""
    found, shop = _document(db, open_builds(db, shop_id), now), shop_of(db, shop_id)
    return _in(found, _as_planned(shop, found, now), shop.temperature_unit)


def document_of(db: Session, shop: Shop, builds: Iterable[Piece], now: datetime) -> Open:
    """Return the shop document of these builds of a shop, whether they are planned or not, with all there is of it."""
    return _in(_document(db, builds, now), planning_shop(shop))


def _in(found: Open, shop: network.Shop, unit: str = "C") -> Open:
    """Put the shop into what was read; the plan's texts speak in the unit, all figures stay °C."""
    return replace(found, document=replace(found.document, shop=shop, temperature_unit=unit))


def _as_planned(shop: Shop, found: Open, now: datetime) -> network.Shop:
    """Return the shop with the days shut and the readings that the plan of these builds can have to do with."""
    days = [build.due_on for build in found.builds.values() if build.due_on]
    since = min([now.date(), *days]) - AROUND
    return planning_shop(shop, since=since, readings_from=aired_from(found.operations.values(), found.states, now))


def _document(db: Session, builds: Iterable[Piece], now: datetime) -> Open:
    named = _named(builds)
    every = [step for build in named.values() for step in build.steps]
    folded = states(db, every, now)
    products = Products(db, every)
    rooms = db.execute(select(Room.id, Room.name).where(Room.id.in_({step.room_id for step in every} - {None})))
    names = Names(
        {step.id: step.key for step in every},
        {step.id: products.stages(step) for step in every},
        {room.id: room.name for room in rooms},
    )
    mapping = {
        "benchtide": 1,
        "now": now.isoformat(),
        "shop": EMPTY_SHOP,
        "builds": [_build(name, build, folded, products, names) for name, build in named.items()],
    }
    mapping["products"] = products.in_document()
    rows = {(name, step.key): step for name, build in named.items() for step in build.steps}
    return Open(to_document(mapping), named, rows, folded, {one.id: one.use for one in products.known.values()})


def _named(builds: Iterable[Piece]) -> dict[str, Piece]:
    """Return builds by a name each of its own: two may be called alike."""
    found: dict[str, Piece] = {}
    for build in builds:
        name, number = build.name, 2
        while name in found:
            name, number = f"{build.name} ({number})", number + 1
        found[name] = build
    return found


def _build(
    name: str, build: Piece, folded: Mapping[int, OperationState], products: "Products", names: Names
) -> dict[str, Any]:
    fields: dict[str, Any] = {
        "name": name,
        "weight": build.weight,
        "done_at": build.done_at or [],
        "operations": [_operation(step, folded, products, names) for step in build.steps],
    }
    if build.due_on:
        fields["due"] = build.due_on.isoformat()
    if build.not_before:
        fields["not_before"] = build.not_before.isoformat()
    return fields


def _operation(step: Step, folded: Mapping[int, OperationState], products: "Products", names: Names) -> dict[str, Any]:
    state = folded[step.id]
    said = state.as_document_fields(makers=step.makers)
    name = products.name_for(step, state.figures)
    label = products.figures[name].data.get("stages") if name else None
    known = merged(label or [], step.stages or [])
    said["reached"] = {stage: at for stage, at in _mapping(said["reached"]).items() if stage in known}
    fields = operation_fields(step, names) | said | _not_before(step, folded)
    return fields | {"product": name} if name else fields


def _mapping(value: object) -> Mapping[str, Any]:
    assert isinstance(value, dict)
    return value


def _not_before(step: Step, folded: Mapping[int, OperationState]) -> dict[str, str]:
    """A layer goes on no sooner than somebody looks again at the one below, where that one was tacky or wet."""
    lower = folded.get(step.over_id or 0)
    again = [lower.look_again.get(stage) for stage in (DRY, TACKY)] if lower else []
    moments = [step.not_before, *again]
    latest = max((moment for moment in moments if moment is not None), default=None)
    return {"not_before": latest.isoformat()} if latest else {}


class Products:
    """The figures in use. One product may stand in a document twice: as its label says today, and as it said when a
    wait began, or with the tending of one operation.
    """

    def __init__(self, db: Session, steps: Iterable[Step]) -> None:
        wanted = select(Product).where(Product.id.in_({step.product_id for step in steps} - {None}))
        self.known = {one.id: one for one in db.scalars(wanted.options(selectinload(Product.figures)))}
        self.mappings: list[dict[str, Any]] = []
        self.figures: dict[str, Figures] = {}
        self._names: dict[tuple[int, str], str] = {}

    def stages(self, step: Step) -> list[str]:
        """Return the named points of a step's wait by the label of today."""
        product = self.known.get(step.product_id or 0)
        return merged(product.current.data.get("stages") or [] if product else [], step.stages or [])

    def name_for(self, step: Step, figures_id: int | None) -> str | None:
        product = self.known.get(step.product_id or 0)
        if product is None:
            return None
        figures = next((one for one in product.figures if one.id == figures_id), product.current)
        tend = json.dumps(step.tend) if step.tend is not None else ""
        key = (figures.id, tend)
        if key not in self._names:
            self._names[key] = self._add(step, figures)
        return self._names[key]

    def in_document(self) -> list[dict[str, Any]]:
        """Return the products; of their windows over others those whose other one is in the document as well."""
        known = {one[key] for one in self.mappings for key in ("name", "family")}
        for one in self.mappings:
            one["recoat_over"] = {name: found for name, found in one.get("recoat_over", {}).items() if name in known}
        return self.mappings

    def _add(self, step: Step, figures: Figures) -> str:
        product = figures.product
        name = product.name
        if figures is not product.current:
            name += f" (figures {figures.number})"
        if step.tend is not None:
            name += f" for {step.name}"
        while name in self.figures:
            name += " again"
        mapping = product_mapping(name, figures)
        if step.tend is not None:
            mapping["tend"] = step.tend
        self.mappings.append(mapping)
        self.figures[name] = figures
        return name
