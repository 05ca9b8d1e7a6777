"""From the checked rows of a file to rows of the database, each after those it names.

Ids are given out in the order of the file, which is the order of the old ids: what is taken out again is the same.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import bindparam, insert, update
from sqlalchemy.orm import Session

from webapp.builds.models import FOLDED
from webapp.db.folding import fold
from webapp.exports.checking import Checked
from webapp.exports.keys import Fresh
from webapp.exports.kinds import BY_TABLE, KINDS, SHOP, VERSIONED, Kind, target
from webapp.exports.matching import free_name
from webapp.exports.row import Row
from webapp.journal.actions import SEARCHED
from webapp.people.models import Person
from webapp.shops.models import HELPER, OWNER, Maker

Values = dict[str, Any]
AT_ONCE = 1_000


@dataclass(frozen=True)
class Occasion:
    """When a file is put in, the day that is in the shop, and a token that no earlier one had."""

    now: datetime
    today: date
    token: str


def shop(db: Session, found: Checked, person: Person, occasion: Occasion) -> int:
    """Add the shop of a file with somebody as its owner, in the place of one of its makers; return its id."""
    owner = place_of(found.rows["makers"], person.name)
    if owner is not None:
        owner.values["person_id"] = person.id
    shop_id = _Putting(db, occasion).all(found, None)
    if owner is None:
        db.add(Maker(shop_id=shop_id, person_id=person.id, name=_new_owner(found, person), role=OWNER))
    db.flush()
    return shop_id


def build(db: Session, found: Checked, shop_id: int, occasion: Occasion) -> int:
    """Add the build of a file to a shop, with what it brings along; return its id."""
    _Putting(db, occasion).all(found, shop_id)
    return int(found.rows["builds"][0].id)


def place_of(makers: Iterable[Row], name: str) -> Row | None:
    """Return the maker whose place somebody takes: the owner of that name, or else the first who has not left."""
    owners = [row for row in makers if row.values["role"] == OWNER and row.values["left_on"] is None]
    return next((row for row in owners if fold(row.values["name"]) == fold(name)), owners[0] if owners else None)


def _new_owner(found: Checked, person: Person) -> str:
    return free_name(person.name, {row.values["name"] for row in found.rows["makers"]})


class _Putting:
    """One file on its way into the tables."""

    def __init__(self, db: Session, occasion: Occasion) -> None:
        self._db, self._occasion = db, occasion
        self._shop_id: int | None = None

    def all(self, found: Checked, shop_id: int | None) -> int:
        self._shop_id = shop_id
        self._keys = Fresh(self._occasion.token, {})
        for kind in KINDS:
            rows = [row for row in found.rows[kind.name] if not row.is_skipped]
            if kind.name == "journal":
                self._keys = Fresh(self._occasion.token, {row.key: row.id for row in found.rows["photos"] if row.id})
            self._add(kind, rows)
            if kind.name == SHOP and rows:
                self._shop_id = rows[0].id
        assert self._shop_id is not None
        return self._shop_id

    def _add(self, kind: Kind, rows: Sequence[Row]) -> None:
        ordered = sorted(rows, key=lambda row: int(row.key)) if kind.name == "photos" else rows
        for first in range(0, len(ordered), AT_ONCE):
            some = ordered[first : first + AT_ONCE]
            values = [self._values(kind, row) for row in some]
            if kind.name == "journal":
                self._db.execute(insert(kind.table), values)
                continue
            wanted = insert(kind.table).returning(kind.table.c.id, sort_by_parameter_order=True)
            for row, key in zip(some, self._db.scalars(wanted, values).all(), strict=True):
                row.id = key
        self._join(kind, ordered)

    def _join(self, kind: Kind, rows: Iterable[Row]) -> None:
        """Say which row of its own table a row names, once both are there."""
        for column in (one.name for one in kind.columns if target(one) == kind.table.name):
            named = [{"row": row.id, "named": other.id} for row in rows if (other := row.names[column]) is not None]
            if named:
                wanted = update(kind.table).where(kind.table.c.id == bindparam("row"))
                self._db.execute(wanted.values({column: bindparam("named")}), named)

    def _values(self, kind: Kind, row: Row) -> Values:
        values = {**LEFT_BEHIND.get(kind.name, _nothing)(self._occasion), **row.values}
        if kind.table.name in VERSIONED:
            values["version"] = 1
        if "shop_id" in kind.table.c:
            values["shop_id"] = self._shop_id
        if kind.inside:
            values[kind.inside] = row.above.id if row.above is not None else None
        for column in kind.columns:
            table = target(column)
            if table in BY_TABLE:
                other = row.names.get(column.name)
                values[column.name] = None if table == kind.table.name or other is None else other.id
        if kind.name == "journal":
            self._finish_line(row, values)
        if kind.name == "builds":
            values["folded"] = fold(" ".join(word for name in FOLDED if (word := values[name])))
        return values

    def _finish_line(self, row: Row, values: Values) -> None:
        values["id"] = self._keys.of(row.key)
        if values.get("corrects"):
            values["corrects"] = self._keys.of(values["corrects"])
        named = {name: other.id for name in ("photo", "figures") if (other := row.names.get(name)) and other.id}
        words = (values["data"].get(key) for key in SEARCHED)
        values["folded"] = fold(" ".join(word.strip() for word in words if isinstance(word, str)))
        values["data"] = {**values["data"], **named}
        values.setdefault("corrects", None)


def _nothing(_occasion: Occasion) -> Values:
    return {}


# what a row has that did not travel
LEFT_BEHIND: dict[str, Callable[[Occasion], Values]] = {
    "shop": lambda _: {"is_invented": False},
    # somebody who comes with a build is not counted on in its new shop
    "makers": lambda occasion: {"person_id": None, "role": HELPER, "left_on": occasion.today},
    "products": lambda _: {"retired": False},
    "figures": lambda occasion: {"at": occasion.now, "why": "", "maker_id": None},
}
