"""Reading the journal: rows as planning's entries, alone or with what corrects them; and what tells of new lines."""

from collections.abc import Iterable
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any

from sqlalchemy import (
    BindParameter,
    ColumnElement,
    CompoundSelect,
    Integer,
    Select,
    and_,
    bindparam,
    func,
    literal,
    select,
    union_all,
)
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
Told = tuple[int, datetime | None]  # how many lines, and when the last of them arrived
Window = tuple[datetime, datetime]  # from the one until before the other
EVER = datetime(9999, 1, 1, tzinfo=UTC)
SHOP = bindparam("shop", type_=Integer)
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
    return asked(db, mended(*conditions), shop=shop_id)


def mended(*conditions: Any) -> Select[Any]:
    """Return the query for the same in `shop`. Who asks often lays it out once: that takes longer than to ask."""
    first = select(Row.id).where(of_shop(SHOP), *conditions).cte("mended", recursive=True)
    chain = first.union(select(LATER.id).where(LATER.corrects == first.c.id, of_shop(SHOP, LATER)))
    return select(*COLUMNS).where(Row.id.in_(select(chain.c.id))).order_by(Row.at, Row.id)


def asked(db: Session, query: Select[Any], **values: Any) -> list[Entry]:
    """Return the entries of a query that was laid out, with these values in it."""
    return [entry_of(row) for row in db.execute(query, values)]


def told(db: Session, shop_id: int, *windows: Window) -> tuple[Told, ...]:
    """Return what tells of new lines: of all corrections of a shop, then of its lines in each window.

    One query, of indexes alone.
    """
    rows = db.execute(_told(len(windows)), {"shop": shop_id, **bounds(windows)})
    found = {place: (count, last) for place, count, last in rows}
    return tuple(found[place] for place in range(-1, len(windows)))


@lru_cache
def _told(windows: int) -> CompoundSelect[Any]:
    lines = func.count(), func.max(Row.arrived_at)
    corrections = select(literal(-1), *lines).where(Row.shop_id == SHOP, Row.corrects.is_not(None))
    inside = (select(literal(place), *lines).where(Row.shop_id == SHOP, within(place)) for place in range(windows))
    return union_all(corrections, *inside)


def within(place: int) -> ColumnElement[bool]:
    """Return the condition that a line is of a window, which `bounds` then gives."""
    return and_(Row.at >= bindparam(f"begin_{place}"), Row.at < bindparam(f"end_{place}"))


def bounds(windows: Iterable[Window]) -> dict[str, datetime]:
    """Return the values of the windows of a query, by their places."""
    ends = [(f"begin_{place}", f"end_{place}", *window) for place, window in enumerate(windows)]
    return {name: moment for begin, end, first, last in ends for name, moment in ((begin, first), (end, last))}


def of_shop(shop_id: int | BindParameter[int], row: type[Row] = Row) -> ColumnElement[bool]:
    """Return the condition that a row is the shop's, said so that rows are looked up by something else than that.

    To SQLite a shop is a few rows, as any other value of an index is; often it is all there are.
    """
    return row.shop_id + 0 == shop_id
