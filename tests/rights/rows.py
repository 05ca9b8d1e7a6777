"""Which shop a row belongs to, told by the tables themselves, so that a new table is looked at without being named."""

from functools import cache
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    ForeignKey,
    FromClause,
    String,
    Table,
    cast,
    literal,
    select,
    union_all,
)
from sqlalchemy.dialects import postgresql, sqlite

from webapp.journal.models import Entry
from webapp.photos.models import Photo
from webapp.products.models import Figures, Product
from webapp.tables import metadata

# accounts belong to people, and people work in several shops; backups are of the server
OF_NO_SHOP = {"mark", "person", "sign_in", "login_try", "backup"}
Rows = dict[str, list[tuple[Any, ...]]]


def owned_by(table: Table) -> ForeignKey | None:
    """Return the key that leads to what a row without a shop of its own is a part of."""
    found = [key for key in table.foreign_keys if key.ondelete == "CASCADE" and not key.parent.nullable]
    return next((key for key in sorted(found, key=lambda key: key.parent.name) if has_shop(key.column.table)), None)


def has_shop(table: Table) -> bool:
    return table.name == "shop" or "shop_id" in table.c or owned_by(table) is not None


def shop_of(table: Table, rows: FromClause) -> ColumnElement[Any]:
    """Return which shop the rows of a table belong to."""
    if table.name == "shop":
        return rows.c.id
    if "shop_id" in table.c:
        return rows.c.shop_id
    key = owned_by(table)
    assert key is not None, f"{table.name} says in no way which shop its rows belong to"
    whole, above = key.column.table, key.column.table.alias()
    return select(shop_of(whole, above)).where(above.c[key.column.name] == rows.c[key.parent.name]).scalar_subquery()


def tables() -> list[Table]:
    return [table for table in metadata.sorted_tables if has_shop(table)]


def dump(connection: Connection, shop_id: int) -> Rows:
    """Return every row of a shop as it is stored, and the accounts and sign-ins of those who work in it."""
    wanted = _all_of(connection.dialect.name, shop_id)
    return {name: [tuple(row) for row in connection.exec_driver_sql(sql)] for name, sql in wanted.items()}


@cache
def _all_of(dialect: str, shop_id: int) -> dict[str, str]:
    wanted = {table: shop_of(table, table) == shop_id for table in tables()}
    maker, person, sign_in = (metadata.tables[name] for name in ("maker", "person", "sign_in"))
    people = select(maker.c.person_id).where(maker.c.shop_id == shop_id)
    wanted |= {person: person.c.id.in_(people), sign_in: sign_in.c.person_id.in_(people)}
    return {
        table.name: _sql(dialect, select(table).where(of_shop).order_by(*table.primary_key))
        for table, of_shop in wanted.items()
    }


def _sql(dialect: str, wanted: Any) -> str:
    """Written out once: these questions are asked thousands of times."""
    kind = {"sqlite": sqlite, "postgresql": postgresql}[dialect]
    return str(wanted.compile(dialect=kind.dialect(), compile_kwargs={"literal_binds": True})).replace("%", "%%")


def crossings(connection: Connection) -> list[str]:
    """Return every reference, by key or by an id inside of other data, that leads from one shop into another."""
    found = [f"{where} of {row}" for where, row in connection.exec_driver_sql(_crossing(connection.dialect.name))]
    return found + list(_named_inside(connection))


@cache
def _crossing(dialect: str) -> str:
    wrong = []
    for table in tables():
        for key in table.foreign_keys:
            whole, above = key.column.table, key.column.table.alias()
            if has_shop(whole):
                where, row = literal(f"{table.name}.{key.parent.name}"), cast(next(iter(table.primary_key)), String)
                joined = select(where, row).join(above, above.c[key.column.name] == key.parent)
                wrong.append(joined.where(shop_of(table, table) != shop_of(whole, above)))
    return _sql(dialect, union_all(*wrong))


def _named_inside(connection: Connection) -> list[str]:
    """The journal names lines, photos and figures without a key."""
    entries = connection.execute(select(Entry.id, Entry.shop_id, Entry.corrects, Entry.data)).all()
    shops = {row.id: row.shop_id for row in entries}
    photos = dict(connection.execute(select(Photo.id, Photo.shop_id)).all())  # type: ignore[arg-type]
    figures = dict(connection.execute(select(Figures.id, Product.shop_id).join(Product)).all())  # type: ignore[arg-type]
    return [
        f"entry {row.id}"
        for row in entries
        for known, named in ((shops, row.corrects), (photos, row.data.get("photo")), (figures, row.data.get("figures")))
        if known.get(named, row.shop_id) != row.shop_id
    ]
