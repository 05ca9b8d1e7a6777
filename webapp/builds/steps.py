"""Operations as pages and plans read them: plain rows, in as many queries however many builds there are.

A page that only looks needs no objects that watch for changes: these are a third of the work to make.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from webapp.builds.models import Hold, Link, Operation
from webapp.shops.models import Equipment


@dataclass(frozen=True, slots=True)
class After:
    """What a step waits for: the end of an earlier one, or a stage of its wait."""

    waits_for_id: int
    stage: str | None
    lag_minutes: int
    within_minutes: int | None


@dataclass(frozen=True, slots=True)
class Held:
    """Equipment that a step takes, and how many of it the shop has."""

    name: str
    owned: int
    count: int
    until: str | None


@dataclass(frozen=True, slots=True)
class Step:
    """An operation as it stands in its row, with what it waits for and holds."""

    id: int
    build_id: int
    key: str
    name: str
    group: str
    kind: str
    position: int
    minutes: int
    low: int | None
    high: int | None
    split: bool | None
    dusty: bool | None
    makers: int
    count: int
    room_id: int | None
    product_id: int | None
    stages: list[Any] | None
    tend: list[Any] | None
    over_id: int | None
    not_before: datetime | None
    pinned_at: datetime | None
    pinned_on: date | None
    assembly_minutes: int | None
    again_for_id: int | None
    after: tuple[After, ...]
    holds: tuple[Held, ...]


Steps = Mapping[int, tuple[Step, ...]]  # by build
COLUMNS = [getattr(Operation, field.name) for field in fields(Step) if field.name not in ("after", "holds")]


def steps_of(db: Session, builds: Collection[int]) -> Steps:
    """Return the steps of each build in their order."""
    ours = Operation.build_id.in_(builds)
    after = _by_operation(
        db,
        select(Link.operation_id, Link.waits_for_id, Link.stage, Link.lag_minutes, Link.within_minutes)
        .join(Link.operation)
        .where(ours)
        .order_by(Link.id),
        After,
    )
    holds = _by_operation(
        db,
        select(Hold.operation_id, Equipment.name, Equipment.count, Hold.count, Hold.until)
        .join(Hold.operation)
        .join(Hold.equipment)
        .where(ours)
        .order_by(Hold.id),
        Held,
    )
    found: dict[int, list[Step]] = {build: [] for build in builds}
    for row in db.execute(select(*COLUMNS).where(ours).order_by(Operation.position, Operation.id)):
        values: tuple[Any, ...] = (*row, tuple(after[row.id]), tuple(holds[row.id]))
        found[row.build_id].append(Step(*values))
    return {build: tuple(steps) for build, steps in found.items()}


def _by_operation(db: Session, rows: Select[*tuple[Any, ...]], kind: type[Any]) -> defaultdict[int, list[Any]]:
    found: defaultdict[int, list[Any]] = defaultdict(list)
    for operation_id, *values in db.execute(rows):
        found[operation_id].append(kind(*values))
    return found
