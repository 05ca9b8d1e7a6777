"""From the mapping of a file to rows that may be put in: each value of its kind, each name leading to another row.

Nothing here asks a database. Rows refer to rows, so a file can never name anything of another shop.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import JSON, Column, String, UniqueConstraint
from sqlalchemy.sql.schema import ScalarElementColumnDefault

from webapp.exports.kinds import (
    BUILD,
    BUILD_LISTS,
    BY_NAME,
    BY_TABLE,
    KINDS,
    SHOP,
    SHOP_LISTS,
    SINGLE,
    Kind,
    inner,
    target,
    word,
)
from webapp.exports.named import Known
from webapp.exports.reading import read, refuse, shown
from webapp.exports.row import Row, line_key, mapping_of, refuse_unknown
from webapp.exports.values import json_of, text_of, value_of, whole_of
from webapp.planning.faults import Path
from webapp.trade.money import CURRENCIES

HEAD = ("format", "number", "version", "document")
NOT_TO_LACK = ("name", "key", "kind", "target_typed")  # texts that say nothing when they are empty; any other may be


@dataclass(frozen=True)
class Checked:
    """A file that may be put in."""

    held: str
    rows: Mapping[str, list[Row]]
    currency: str

    def all(self) -> Iterator[Row]:
        return (row for kind in KINDS for row in self.rows[kind.name])


def check(content: bytes) -> Checked:
    """Return the rows of a file. Raises RefusedError, which names the first place that is wrong."""
    held, file = read(content)
    lists = SHOP_LISTS if held == SHOP else BUILD_LISTS
    known = {*HEAD, *lists, SHOP if held == SHOP else "currency"}
    refuse_unknown(file, known, ())
    found = _Found(held)
    if held == SHOP:
        found.add_one(BY_NAME[SHOP], mapping_of(file.get(SHOP), (SHOP,)), (SHOP,), None)
    for name in lists:
        found.add(BY_NAME[name], file.get(name, []), (name,), None)
    found.settle()
    return Checked(held, found.rows, _currency(held, file, found.rows))


def _currency(held: str, file: Mapping[str, Any], rows: Mapping[str, list[Row]]) -> str:
    if held == SHOP:
        return str(rows[SHOP][0].values["currency"])
    currency = text_of(file.get("currency"), ("currency",))
    if currency not in CURRENCIES:
        raise refuse(("currency",), f"{shown(currency)} is not known here.")
    if len(rows["builds"]) != 1:
        raise refuse(("builds",), f"{len(rows['builds'])} stand here; the file of a build holds one.")
    return currency


class _Found:
    """The rows found so far. First all values, then what they name."""

    def __init__(self, held: str) -> None:
        self.of_build = held == BUILD
        self.rows: dict[str, list[Row]] = {kind.name: [] for kind in KINDS}

    def add(self, kind: Kind, value: Any, path: Path, above: Row | None) -> None:
        if kind.name in SINGLE:
            self.add_one(kind, mapping_of(value, path), path, above)
            return
        if not isinstance(value, list):
            raise refuse(path, f"{shown(value)} is not a list.")
        for number, raw in enumerate(value):
            self.add_one(kind, mapping_of(raw, (*path, number)), (*path, number), above)

    def add_one(self, kind: Kind, raw: Mapping[str, Any], path: Path, above: Row | None) -> None:
        row = Row(kind, path, raw, above)
        below = {other.name: other for other in inner(kind)}
        columns = [one for one in kind.columns if not (self.of_build and one.name in kind.own)]
        called = {"journal": {"key"}, "photos": {"number"}}.get(kind.name, set())
        refuse_unknown(raw, {*map(word, columns), *below, *called}, path)
        row.key = _key(kind, raw, path)
        for column in columns:
            if target(column) is None and column.name != "corrects":
                row.values[column.name] = _value(column, raw, path)
        self.rows[kind.name].append(row)
        for name, other in below.items():
            if name in raw:
                self.add(other, raw[name], (*path, name), row)

    def settle(self) -> None:
        """Let each name lead to its row, and see that nothing stands there twice."""
        self._check_keys()
        known = Known(self.rows)
        for kind in KINDS:
            references = [(one, table) for one in kind.columns if (table := target(one)) in BY_TABLE]
            for row in self.rows[kind.name]:
                for column, table in references:
                    row.names[column.name] = known.row(str(table), row, word(column), bool(column.nullable))
                if kind.name == "journal":
                    known.settle_line(row)
            _refuse_twice(kind, self.rows[kind.name])

    def _check_keys(self) -> None:
        numbers: set[Any] = set()
        for row in self.rows["photos"]:
            if row.key in numbers or row.key > len(self.rows["photos"]):
                raise refuse((*row.path, "number"), f"{row.key} does not count on: photos are numbered from 1.")
            numbers.add(row.key)


def _key(kind: Kind, raw: Mapping[str, Any], path: Path) -> Any:
    if kind.name == "photos":
        return whole_of(raw.get("number"), (*path, "number"))
    return line_key(raw.get("key"), (*path, "key")) if kind.name == "journal" else None


def _value(column: Column[Any], raw: Mapping[str, Any], path: Path) -> Any:
    place = (*path, word(column))
    value = value_of(column, raw.get(word(column)), place)
    if value is not None:
        return json_of(value, place) if isinstance(value, dict | list) else value
    nothing = None if column.nullable else _nothing(column)
    if not column.nullable and (nothing is None or (nothing == "" and column.name in NOT_TO_LACK)):
        raise refuse(place, "is missing.")
    return nothing


def _nothing(column: Column[Any]) -> Any:
    """What stands in a column that takes no null where the file says nothing, or None where it has to say something."""
    if isinstance(column.default, ScalarElementColumnDefault):
        return column.default.arg
    if isinstance(column.type, JSON):
        return {}
    return "" if isinstance(column.type, String) else None


def _refuse_twice(kind: Kind, rows: Iterable[Row]) -> None:
    """Refuse what the tables have only once: a name in its shop, a key in its build."""
    if kind.name == "journal":
        together = [["key"]]
    else:
        constraints = [one for one in kind.table.constraints if isinstance(one, UniqueConstraint)]
        together = [[column.name for column in one.columns] for one in constraints]
    carried = {column.name for column in kind.columns} | {"shop_id", kind.inside, "key"}
    for columns in (some for some in together if carried.issuperset(some)):
        seen: set[Any] = set()
        for row in rows:
            found = tuple(_told(row, column) for column in columns)
            if None not in found and found in seen:
                told = next(column for column in reversed(columns) if column not in ("shop_id", kind.inside))
                raise refuse((*row.path, told), "this stands here twice.")
            seen.add(found)


def _told(row: Row, column: str) -> Any:
    if column == "shop_id":
        return 0
    if column == row.kind.inside:
        return row.above
    if column == "key" and row.kind.name == "journal":
        return row.key
    return row.names[column] if column in row.names else row.values[column]
