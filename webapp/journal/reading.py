"""Reading the journal: rows as planning's entries, alone or with what corrects them; and what tells of new lines."""

from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, func, literal, select, union_all
from sqlalchemy.orm import Session, aliased

from webapp.journal.models import Entry as Row
from webapp.planning.entry import Entry

COLUMNS = (
    Row.id,
    Row.at,
    Row.arrived_at,
    Row.kind,
    Row.maker_id,
    Row.operation_id,
    Row.build_id,
    Row.data,
    Row.corrects,
)
MENDS = Row.corrects.is_not(None)
Told = tuple[int, datetime | None]  # how many lines, and when the last of them arrived
LATER = aliased(Row)  # laid out once: an alias costs more than most queries


def entry_of(row: Any) -> Entry:
    """Return a row of COLUMNS, or an entry row, as planning's entry."""
    return Entry(
        row.id,
        row.at,
        row.arrived_at,
        row.kind,
        row.maker_id,
        row.operation_id,
        row.build_id,
        row.data,
        row.corrects,
    )


def read(db: Session, *conditions: Any) -> list[Entry]:
    """Return the entries for which all conditions hold, by time."""
    return [entry_of(row) for row in db.execute(select(*COLUMNS).where(*conditions).order_by(Row.at, Row.id))]


def read_mended(db: Session, shop_id: int, *conditions: Any) -> list[Entry]:
    """Return the entries of a shop for which all conditions hold, and what corrects them, by time."""
    first = select(Row.id).where(of_shop(shop_id), *conditions).cte("mended", recursive=True)
    chain = first.union(select(LATER.id).where(LATER.corrects == first.c.id, of_shop(shop_id, LATER)))
    return read(db, Row.id.in_(select(chain.c.id)))


def told(db: Session, shop_id: int, *windows: ColumnElement[bool]) -> tuple[Told, ...]:
    """Return what tells of new lines: of all corrections of a shop, then of its lines in each window.

    One query, of indexes alone where a window is one of time.
    """
    lines = func.count(), func.max(Row.arrived_at)
    ours = Row.shop_id == shop_id
    parts = [select(literal(place), *lines).where(ours, window) for place, window in enumerate((MENDS, *windows))]
    found = {place: (count, last) for place, count, last in db.execute(union_all(*parts))}
    return tuple(found[place] for place in range(len(parts)))


def of_shop(shop_id: int, row: type[Row] = Row) -> ColumnElement[bool]:
    """Return the condition that a row is the shop's, said so that rows are looked up by something else than that.

    To SQLite a shop is a few rows, as any other value of an index is; often it is all there are.
    """
    return row.shop_id + 0 == shop_id
