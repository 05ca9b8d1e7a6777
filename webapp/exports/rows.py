"""The rows of a shop, or of one build with what it needs of its shop, by the lists of the file."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import ColumnElement, Engine, RowMapping, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.exports.kinds import BROUGHT, BY_NAME, BY_TABLE, KINDS, SHOP, Kind, inner, target
from webapp.photos.actions import KIND as PHOTOGRAPHED
from webapp.planning.entry import WITHDRAWN
from webapp.shops.models import Shop

Rows = dict[str, list[RowMapping]]


def of_one_moment(db: Session) -> None:
    """Let all that a session reads be of one moment, whatever others write meanwhile. SQLite does that by itself."""
    bind = db.get_bind()
    if isinstance(bind, Engine) and bind.dialect.name == "postgresql":
        db.connection(execution_options={"isolation_level": "REPEATABLE READ"})


def of_shop(db: Session, shop: Shop) -> Rows:
    """Return all rows of a shop."""
    return {kind.name: _read(db, kind, _owner(kind, shop.id)) for kind in KINDS}


def of_build(db: Session, build: Build) -> Rows:
    """Return the rows of a build, the receipts of its materials with their lines, and what of the shop these name."""
    rows: Rows = {kind.name: [] for kind in KINDS}
    rows["builds"] = _read(db, BY_NAME["builds"], Build.id == build.id)
    read = {"builds"}
    for kind in KINDS:
        if kind.within in read:
            rows[kind.name] = _inside(db, kind, rows)
            read.add(kind.name)
    _add_receipts(db, build.shop_id, rows)
    _add_named(db, build.shop_id, rows)
    return rows


def of_place(db: Session, shop_id: int) -> Rows:
    """Return what of a shop a build names: its people, things, rooms and products."""
    wanted = {kind.name for kind in KINDS if kind.name in BROUGHT or kind.within in BROUGHT}
    return {kind.name: _read(db, kind, _owner(kind, shop_id)) if kind.name in wanted else [] for kind in KINDS}


def _owner(kind: Kind, shop_id: int) -> ColumnElement[bool]:
    if kind.name == SHOP:
        return kind.table.c.id == shop_id
    if "shop_id" in kind.table.c:
        return kind.table.c.shop_id == shop_id
    above = BY_NAME[kind.within].table
    return kind.table.c[kind.inside].in_(select(above.c.id).where(above.c.shop_id == shop_id))


def _read(db: Session, kind: Kind, wanted: ColumnElement[bool]) -> list[RowMapping]:
    found = db.execute(select(kind.table).where(wanted)).mappings()
    return sorted(found, key=lambda row: [row[column] for column in kind.order])


def _inside(db: Session, kind: Kind, rows: Rows) -> list[RowMapping]:
    """Return the rows that stand in those read already."""
    return _read(db, kind, kind.table.c[kind.inside].in_([row["id"] for row in rows[kind.within]]))


def _add_receipts(db: Session, shop_id: int, rows: Rows) -> None:
    wanted = {row["receipt_id"] for row in rows["materials"]} - {row["id"] for row in rows["photos"]} - {None}
    if not wanted:
        return
    photos, journal = BY_NAME["photos"], BY_NAME["journal"]
    table = journal.table
    receipts = _read(db, photos, (photos.table.c.shop_id == shop_id) & photos.table.c.id.in_(wanted))
    rows["photos"] = sorted([*rows["photos"], *receipts], key=lambda row: int(row["id"]))
    told = (table.c.shop_id == shop_id) & table.c.build_id.is_(None) & table.c.kind.in_((PHOTOGRAPHED, WITHDRAWN))
    rows["journal"] += _about({row["id"] for row in receipts}, _read(db, journal, told))


def _about(photos: set[int], lines: Sequence[RowMapping]) -> list[RowMapping]:
    """Return the lines that tell of these photos, and those that correct them."""
    known = {line["id"] for line in lines if line["data"].get("photo") in photos}
    size = -1
    while size != len(known):
        size = len(known)
        known |= {line["id"] for line in lines if line["corrects"] in known}
    return [line for line in lines if line["id"] in known]


def _add_named(db: Session, shop_id: int, rows: Rows) -> None:
    """Add the makers, rooms, equipment and products that the rows name, with what stands in them."""
    named: dict[str, set[Any]] = {}
    for table, key in _named(rows):
        named.setdefault(table, set()).add(key)
    for name in BROUGHT:
        kind = BY_NAME[name]
        ids = named.get(kind.table.name, set())
        rows[name] = _read(db, kind, (kind.table.c.shop_id == shop_id) & kind.table.c.id.in_(ids))
        for below in inner(kind):
            rows[below.name] = _inside(db, below, rows)
    _add_products_of_waits(db, shop_id, rows)


def _named(rows: Mapping[str, Iterable[RowMapping]]) -> Iterator[tuple[str, Any]]:
    for name, found in rows.items():
        columns = [(column.name, target(column)) for column in BY_NAME[name].columns]
        references = [(column, table) for column, table in columns if table in BY_TABLE]
        for row in found:
            yield from ((str(table), row[column]) for column, table in references if row[column] is not None)


def _add_products_of_waits(db: Session, shop_id: int, rows: Rows) -> None:
    """Add the products whose figures a wait began with, where the operation has another one by now."""
    begun_with = {row["data"].get("figures") for row in rows["journal"]} - {row["id"] for row in rows["figures"]}
    wanted = [key for key in begun_with if isinstance(key, int)]
    if not wanted:
        return
    products, figures = BY_NAME["products"], BY_NAME["figures"]
    ids = select(figures.table.c.product_id).where(figures.table.c.id.in_(wanted))
    more = _read(db, products, (products.table.c.shop_id == shop_id) & products.table.c.id.in_(ids))
    known = {row["id"] for row in rows["products"]}
    added = [row for row in more if row["id"] not in known]
    rows["products"] = sorted([*rows["products"], *added], key=lambda row: int(row["id"]))
    rows["figures"] += _read(db, figures, figures.table.c.product_id.in_([row["id"] for row in added]))
