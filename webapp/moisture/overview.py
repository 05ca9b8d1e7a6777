"""The boards and parts that were read last, each with its answer: asked once for all of them."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from webapp.builds.models import Part
from webapp.moisture.answers import Answer, answer
from webapp.moisture.models import MaterialMoisture, PartMoisture, StockMoisture
from webapp.moisture.revisions import standing
from webapp.moisture.subjects import Subject, of_material, of_part
from webapp.stock.models import Material

SHOWN = 30
LOOKED_AT = 200  # rows, in which the things that were read last stand


@dataclass(frozen=True)
class Lately:
    """A thing that was read, its newest reading, and whether it may be milled."""

    subject: Subject
    last: Any
    answer: Answer | None


@dataclass(frozen=True)
class _Kind:
    """What can be read, the table of its readings and the column that says of which."""

    thing: Any
    table: Any
    column: Any
    subject: Callable[[Any], Subject]


BOARDS = _Kind(Material, MaterialMoisture, MaterialMoisture.material_id, of_material)
PARTS = _Kind(Part, PartMoisture, PartMoisture.part_id, of_part)


def lately(db: Session, shop_id: int, stock: StockMoisture | None, near: float) -> list[Lately]:
    """Return the things of a shop that were read last, the newest first."""
    read = [(at, kind, key) for kind in (BOARDS, PARTS) for key, at in _read_at(db, kind, shop_id).items()]
    newest = sorted(read, key=lambda one: one[0], reverse=True)[:SHOWN]
    own = stock.counts_as if stock else None
    found = [
        Lately(kind.subject(thing), rows[-1], answer(rows, own, near))
        for kind in (BOARDS, PARTS)
        for thing, rows in _things(db, kind, [key for _, of, key in newest if of is kind])
    ]
    return sorted(found, key=lambda one: (one.last.at, one.last.id), reverse=True)


def _read_at(db: Session, kind: _Kind, shop_id: int) -> dict[int, datetime]:
    """Return when each of the things noted last was read last."""
    wanted = select(kind.column, kind.table.at).where(kind.table.shop_id == shop_id)
    found: dict[int, datetime] = {}
    for key, at in db.execute(wanted.order_by(kind.table.id.desc()).limit(LOOKED_AT)):
        found[key] = max(at, found.get(key, at))
    return found


def _things(db: Session, kind: _Kind, ids: Sequence[int]) -> Iterator[tuple[Any, list[Any]]]:
    """Yield each of these things that has a reading which stands, and its readings."""
    if not ids:
        return
    rows = readings(db, kind.table, kind.column, ids)
    things = db.scalars(select(kind.thing).where(kind.thing.id.in_(ids)).options(joinedload(kind.thing.build)))
    yield from ((thing, rows[thing.id]) for thing in things if thing.id in rows)


def readings(db: Session, table: Any, column: Any, ids: Iterable[int]) -> dict[int, list[Any]]:
    """Return the readings of several things that stand, oldest first; nothing of what was never read."""
    found: dict[int, list[Any]] = {}
    for row in db.scalars(select(table).where(column.in_(ids)).order_by(table.id)):
        found.setdefault(getattr(row, column.key), []).append(row)
    return {key: read for key, rows in found.items() if (read := standing(rows))}
