"""Rows as lines of JSON: out of a SQLite file, and back into one with every value held to its column."""

import re
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from webapp.backups.blank import VERSIONS
from webapp.backups.layout import DEEPEST, SHA256, ArchiveError, line_of, strict

LARGEST = 2**63 - 1
DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
MOMENT = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d\.\d{6}", re.ASCII)


@dataclass(frozen=True)
class Column:
    name: str
    kind: str
    may_lack: bool


def tables(connection: sqlite3.Connection) -> dict[str, list[Column]]:
    """Return the tables of a file with their columns."""
    names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name <> ?", (VERSIONS,))
    return {name: _columns(connection, name) for (name,) in sorted(names)}


def _columns(connection: sqlite3.Connection, table: str) -> list[Column]:
    found = connection.execute('SELECT name, type, "notnull", pk FROM pragma_table_info(?)', (table,))
    return [Column(name, kind, not is_needed and not key) for name, kind, is_needed, key in found]


def lines(connection: sqlite3.Connection, table: str, columns: Sequence[Column]) -> Iterator[bytes]:
    """Yield the rows of a table in the order of their ids. A NUL character, which no form lets in, is left out."""
    names = [column.name for column in columns]
    for row in connection.execute(f'SELECT {_quoted(names)} FROM "{table}" ORDER BY 1'):  # noqa: S608
        values = [value.replace("\0", "") if isinstance(value, str) else value for value in row]
        yield line_of(dict(zip(names, values, strict=True)))


def inserting(table: str, names: Sequence[str]) -> str:
    return f'INSERT INTO "{table}" ({_quoted(names)}) VALUES ({", ".join("?" * len(names))})'  # noqa: S608


def _quoted(names: Iterable[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)


def load(connection: sqlite3.Connection, table: str, columns: Sequence[Column], found: Iterable[bytes]) -> None:
    """Put lines into an empty table; raise ArchiveError for what does not belong there."""
    names = [column.name for column in columns]
    where = f"rows/{table}.jsonl"
    try:
        connection.executemany(inserting(table, names), _values(where, columns, found))
    except sqlite3.IntegrityError as error:
        raise ArchiveError(f"{where} does not fit its table: {error}.") from None


def _values(where: str, columns: Sequence[Column], found: Iterable[bytes]) -> Iterator[list[Any]]:
    wanted = {column.name for column in columns}
    for number, line in enumerate(found, 1):
        here = f"{where}, line {number},"
        row = strict(line, here)
        if not isinstance(row, dict) or set(row) != wanted:
            odd = sorted(set(row) ^ wanted)[0] if isinstance(row, dict) else "no row"
            raise ArchiveError(f"{here} does not have the columns of its table ({odd[:60]}).")
        yield [_value(here, column, row[column.name]) for column in columns]


def _value(here: str, column: Column, value: Any) -> Any:
    if value is None and column.may_lack:
        return None
    if not FITS[column.kind](value):
        raise ArchiveError(f"{here} holds something in {column.name} that cannot be there.")
    return value


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and -LARGEST <= value <= LARGEST


def _is_yes_or_no(value: Any) -> bool:
    return _is_whole(value) and value in (0, 1)


def _is_number(value: Any) -> bool:
    return _is_whole(value) or isinstance(value, float)


def _is_text(value: Any) -> bool:
    if not isinstance(value, str) or "\0" in value:
        return False
    try:
        value.encode()
    except UnicodeEncodeError:  # half a character
        return False
    return True


def _is_day(value: Any) -> bool:
    return _reads(value, DAY, date.fromisoformat)


def _is_moment(value: Any) -> bool:
    return _reads(value, MOMENT, datetime.fromisoformat)


def _reads(value: Any, pattern: re.Pattern[str], read: Callable[[str], Any]) -> bool:
    if not (isinstance(value, str) and pattern.fullmatch(value)):
        return False
    try:
        read(value)
    except ValueError:
        return False
    return True


def _is_json(value: Any) -> bool:
    if not _is_text(value):
        return False
    level = [strict(value, "JSON in a row")]
    for _ in range(DEEPEST):
        level = [inner for one in level for inner in _inside(one)]
        if not all(_is_text(one) for one in level if isinstance(one, str)):
            return False
        if not level:
            return True
    return False


def _inside(value: Any) -> Iterable[Any]:
    if isinstance(value, dict):
        return (*value.keys(), *value.values())
    return value if isinstance(value, list) else ()


FITS: dict[str, Callable[[Any], bool]] = {
    "INTEGER": _is_whole,
    "BIGINT": _is_whole,
    "BOOLEAN": _is_yes_or_no,
    "DOUBLE": _is_number,
    "VARCHAR": _is_text,
    "DATE": _is_day,
    "DATETIME": _is_moment,
    "JSON": _is_json,
}


def photos(connection: sqlite3.Connection) -> list[str]:
    """Return the hash of each photo that a row names, once; raise ArchiveError where one is no hash."""
    found = [row[0] for row in connection.execute("SELECT DISTINCT sha256 FROM photo ORDER BY sha256")]
    wrong = next((one for one in found if not SHA256.fullmatch(one)), None)
    if wrong is not None:
        raise ArchiveError(f"A photo is named {wrong[:80]!r}, which is no hash.")
    return found
