"""Operations as pages and plans read them: plain rows, in as many queries however many builds there are.

A page that only looks needs no objects that watch for changes: these are a third of the work to make.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Hold, Link, Operation
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


@dataclass(frozen=True, slots=True)
class Piece:
    """A build as it stands in its row, with its steps in their order."""

    id: int
    name: str
    status: str
    due_on: date | None
    not_before: date | None
    weight: int
    done_at: list[Any] | None
    steps: tuple[Step, ...]


Steps = Mapping[int, tuple[Step, ...]]  # by build


def _columns(model: type[Any], plain: type[Any], *but: str) -> list[Any]:
    return [getattr(model, field.name) for field in fields(plain) if field.name not in but]


OF_A_STEP, OF_A_PIECE = _columns(Operation, Step, "after", "holds"), _columns(Build, Piece, "steps")


def pieces_of(db: Session, *conditions: ColumnElement[bool]) -> list[Piece]:
    """Return the builds for which some conditions hold, in the order they were begun."""
    rows = db.execute(select(*OF_A_PIECE).where(*conditions).order_by(Build.id)).all()
    steps = steps_of(db, [row.id for row in rows])
    found: list[tuple[Any, ...]] = [(*row, steps[row.id]) for row in rows]
    return [Piece(*values) for values in found]


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
    for row in db.execute(select(*OF_A_STEP).where(ours).order_by(Operation.position, Operation.id)):
        values: tuple[Any, ...] = (*row, tuple(after[row.id]), tuple(holds[row.id]))
        found[row.build_id].append(Step(*values))
    return {build: tuple(steps) for build, steps in found.items()}


def _by_operation(db: Session, rows: Select[*tuple[Any, ...]], kind: type[Any]) -> defaultdict[int, list[Any]]:
    found: defaultdict[int, list[Any]] = defaultdict(list)
    for operation_id, *values in db.execute(rows):
        found[operation_id].append(kind(*values))
    return found
