"""From rows to the file: a mapping of lists, the same for the same shop whatever server and database it stands on."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import partial
from typing import Any

from sqlalchemy import Column, RowMapping
from sqlalchemy.orm import Session

from webapp.backups.layout import VERSION
from webapp.builds.models import Build
from webapp.exports import document, rows
from webapp.exports.keys import Numbered, order
from webapp.exports.kinds import (
    BUILD,
    BUILD_LISTS,
    BY_NAME,
    BY_TABLE,
    NAMED_BY,
    NUMBER,
    SHOP,
    SHOP_LISTS,
    SINGLE,
    Kind,
    inner,
    target,
    word,
)
from webapp.shops.models import Shop

File = dict[str, Any]
Shown = Callable[[str], str | None]


class Lines:
    """A list of rows: in the text of the file each begins a line. They are made as they are written, one by one."""

    def __init__(self, rows: Sequence[RowMapping], made: Callable[[RowMapping], dict[str, Any]]) -> None:
        self._rows, self._made = rows, made

    def __iter__(self) -> Iterator[dict[str, Any]]:
        return map(self._made, self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def __eq__(self, other: object) -> bool:
        return list(self) == other

    __hash__ = None  # type: ignore[assignment]


@dataclass(frozen=True)
class Taken:
    """What was taken out: the file, and where its pictures lie, by their hash; these are known once it is written."""

    file: File
    pictures: Mapping[str, str]


def shop_file(db: Session, shop: Shop, shown: Shown) -> Taken:
    """Return the file of a shop. `shown` says which picture a file of the store shows."""
    found = rows.of_shop(db, shop)
    writer = Writer(found, shown)
    head = {"document": document.of_shop(db, shop, found), SHOP: writer.row(BY_NAME[SHOP], found[SHOP][0])}
    return Taken({**_head(SHOP), **head, **writer.lists(SHOP_LISTS)}, writer.pictures)


def build_file(db: Session, shop: Shop, build: Build, shown: Shown) -> Taken:
    """Return the file of one build, with what it names of its shop."""
    found = rows.of_build(db, build)
    head = {"document": document.of_build(db, shop, build, found), "currency": shop.currency}
    writer = Writer(found, shown, for_a_shop=False)
    return Taken({**_head(BUILD), **head, **writer.lists(BUILD_LISTS)}, writer.pictures)


def _head(what: str) -> File:
    return {"format": f"benchtide {what}", "number": NUMBER, "version": VERSION}


class Writer:
    """Rows as they stand in the file."""

    def __init__(self, found: rows.Rows, shown: Shown, *, for_a_shop: bool = True) -> None:
        self._own = not for_a_shop
        self._shown = shown
        self.pictures: dict[str, str] = {}
        self._numbers = {row["id"]: number for number, row in enumerate(found["photos"], 1)}
        self._names = {
            table: {row["id"]: row[column] for row in found[BY_TABLE[table].name]} for table, column in NAMED_BY.items()
        }
        self._build_of = {row["id"]: row["build_id"] for row in found["operations"]}
        products = self._names["product"]
        self._figures = {
            row["id"]: {"product": products[row["product_id"]], "number": row["number"]} for row in found["figures"]
        }
        journal = found["journal"]
        ids = [key for row in journal for key in (row["id"], row["corrects"]) if key is not None]
        self._keys = Numbered(ids, self._numbers)
        self._inside: dict[tuple[str, Any], list[RowMapping]] = {}
        for name, several in {**found, "journal": sorted(journal, key=self._order)}.items():
            column = BY_NAME[name].inside
            for row in several:
                self._inside.setdefault((name, row[column] if column else None), []).append(row)

    def _order(self, line: RowMapping) -> Any:
        return line["at"], line["arrived_at"], order(self._keys.of(line["id"]))

    def lists(self, names: Iterable[str]) -> File:
        """Return the lists that stand at the top."""
        return {name: self._list(BY_NAME[name], None) for name in names}

    def _list(self, kind: Kind, inside: Any) -> Lines:
        return Lines(self._inside.get((kind.name, inside), ()), partial(self.row, kind))

    def row(self, kind: Kind, row: RowMapping) -> dict[str, Any]:
        """Return one row: its number or key, its values, then what stands in it. What is empty is left out."""
        found = self._called(kind, row)
        for column in kind.columns:
            if self._own and column.name in kind.own:
                continue
            value = self._value(column, row)
            if value is not None and value != "":
                found[word(column)] = value
        for below in inner(kind):
            several = self._list(below, row["id"])
            if several:
                found[below.name] = next(iter(several)) if below.name in SINGLE else several
        return found

    def _called(self, kind: Kind, row: RowMapping) -> dict[str, Any]:
        if kind.name == "photos":
            return {"number": self._numbers[row["id"]]}
        return {"key": self._keys.of(row["id"])} if kind.name == "journal" else {}

    def _value(self, column: Column[object], row: RowMapping) -> Any:
        value, table = row[column.name], target(column)
        if column.name == "shown_sha256":
            return self._picture(value or self._shown(row["sha256"]), row["sha256"])
        if value is None:
            return None
        if table == "photo":
            return self._numbers.get(value)
        if table is not None:
            return self._name(table, value, row)
        if column.table.name == "entry":
            return self._of_line(column.name, value)
        return plain(value)

    def _picture(self, shown: str | None, sha256: str) -> str | None:
        if shown is not None:
            self.pictures.setdefault(shown, sha256)
        return shown

    def _name(self, table: str, key: Any, row: RowMapping) -> Any:
        """The name of a row that is referred to; an operation is one of the same build."""
        if table == "operation":
            build = row["build_id"] if "build_id" in row else self._build_of[row["operation_id"]]
            return self._names[table].get(key) if self._build_of.get(key) == build else None
        return self._names[table].get(key)

    def _of_line(self, column: str, value: Any) -> Any:
        if column == "corrects":
            return self._keys.of(value)
        if column != "data":
            return plain(value)
        return self._data(value) or None

    def _data(self, data: Mapping[str, Any]) -> dict[str, Any]:
        found = dict(data)
        for name, known in (("photo", self._numbers), ("figures", self._figures)):
            if name in found:
                key = found.pop(name)
                if isinstance(key, int) and key in known:
                    found[name] = known[key]
        return found


def plain(value: Any) -> Any:
    """Return a value as JSON has it: moments and days as ISO 8601 has them, exact numbers as text."""
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return value.isoformat() if isinstance(value, datetime | date) else value
