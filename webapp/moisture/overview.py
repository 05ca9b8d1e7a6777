"""The boards and parts that were read last, each with its answer: asked once for all of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
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


def lately(db: Session, shop_id: int, stock: StockMoisture | None, near: float) -> list[Lately]:
    """Return the things of a shop that were read last, the newest first."""
    found = [
        *_of(db, shop_id, MaterialMoisture, Material, of_material, stock, near),
        *_of(db, shop_id, PartMoisture, Part, of_part, stock, near),
    ]
    return sorted(found, key=lambda one: (one.last.at, one.last.id), reverse=True)[:SHOWN]


def _of(
    db: Session, shop_id: int, table: Any, of: Any, subject: Any, stock: StockMoisture | None, near: float
) -> Iterable[Lately]:
    column = table.material_id if table is MaterialMoisture else table.part_id
    last = db.scalars(select(column).where(table.shop_id == shop_id).order_by(table.id.desc()).limit(LOOKED_AT))
    ids = list(dict.fromkeys(last))[:SHOWN]
    things = db.scalars(select(of).where(of.id.in_(ids)).options(joinedload(of.build)))
    rows = readings(db, table, column, ids)
    for thing in things:
        if read := rows.get(thing.id):
            yield Lately(subject(thing), read[-1], answer(read, stock.counts_as if stock else None, near))


def readings(db: Session, table: Any, column: Any, ids: Sequence[int]) -> dict[int, list[Any]]:
    """Return the readings of several things that stand, oldest first; nothing of what was never read."""
    found: dict[int, list[Any]] = {}
    for row in db.scalars(select(table).where(column.in_(ids)).order_by(table.id)):
        found.setdefault(getattr(row, column.key), []).append(row)
    return {key: read for key, rows in found.items() if (read := standing(rows))}
