"""From a single value of a file to the value its column takes, by its type."""

import re
from collections.abc import Callable
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import cache
from typing import Any

from sqlalchemy import JSON, BigInteger, Boolean, Column, Date, Float, Integer, UniqueConstraint

from webapp.db.types import Exact, Instant
from webapp.exports.reading import refuse, shown
from webapp.exports.rules import MOST_MINOR, RULES
from webapp.planning.faults import Path
from webapp.web.text import tidy

LONGEST_TEXT = 20_000
LONGEST_NAME = 200  # of what an index holds: PostgreSQL takes no longer ones
FIRST_YEAR, LAST_YEAR = 1970, 2150
FIRST_PHOTO = 1826
INT32, INT64 = 2**31 - 1, 2**63 - 1
EXACT = re.compile(r"-?\d{1,12}(\.\d{1,4})?", re.ASCII)
DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)


def value_of(column: Column[Any], raw: Any, path: Path) -> Any:
    """Return a value as its column takes it, or raise RefusedError. None is nothing."""
    if raw is None:
        return None
    reader = next((reader for kind, reader in READERS if isinstance(column.type, kind)), _text)
    try:
        value = reader(column, raw)
    except ValueError as error:
        raise refuse(path, f"{error}.") from None
    rule = RULES.get(f"{column.table.name}.{column.name}")
    said = rule(value) if rule else None
    if said:
        raise refuse(path, f"{said}.")
    return value


def text_of(raw: Any, path: Path, longest: int = LONGEST_NAME) -> str:
    """Return a text of the file, tidied as typed ones are."""
    if not isinstance(raw, str):
        raise refuse(path, f"{shown(raw)} is not a text.")
    found = str(tidy(raw))
    if len(found) > longest:
        raise refuse(path, f"this is longer than {longest:,} characters.")
    return found


def whole_of(raw: Any, path: Path, most: int = INT32) -> int:
    """Return a whole number of the file, from 1 on."""
    if isinstance(raw, bool) or not isinstance(raw, int) or not 1 <= raw <= most:
        raise refuse(path, f"{shown(raw)} is not a whole number from 1 to {most:,}.")
    return raw


def json_of(raw: Any, path: Path) -> Any:
    """Return a value of any shape with its texts tidied and its numbers such as both databases keep."""
    if isinstance(raw, str):
        return text_of(raw, path, LONGEST_TEXT)
    if isinstance(raw, dict):
        return {text_of(key, path): json_of(item, (*path, key)) for key, item in raw.items()}
    if isinstance(raw, list):
        return [json_of(item, (*path, number)) for number, item in enumerate(raw)]
    if isinstance(raw, int) and not -INT64 <= raw <= INT64:
        raise refuse(path, "this number is too large.")
    return raw


def _boolean(_column: Column[Any], raw: Any) -> bool:
    if not isinstance(raw, bool):
        raise ValueError(f"{shown(raw)} is neither true nor false")
    return raw


def _whole(column: Column[Any], raw: Any) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int):
        raise ValueError(f"{shown(raw)} is not a whole number")
    most = INT64 if isinstance(column.type, BigInteger) else INT32
    if not -most <= raw <= most:
        raise ValueError(f"{shown(raw)} is too large a number")
    return raw


def _number(_column: Column[Any], raw: Any) -> float:
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise ValueError(f"{shown(raw)} is not a number")
    if abs(raw) > MOST_MINOR:
        raise ValueError(f"{shown(raw)} is too large a number")
    return float(raw)


def _exact(_column: Column[Any], raw: Any) -> Decimal:
    if not isinstance(raw, str) or not EXACT.fullmatch(raw):
        raise ValueError(f"{shown(raw)} is not a number in quotes with at most four decimals, like “12.5”")
    return Decimal(raw)


def _day(_column: Column[Any], raw: Any) -> date:
    try:
        day = date.fromisoformat(raw) if isinstance(raw, str) and DAY.fullmatch(raw) else None
    except ValueError:
        day = None
    if day is None:
        raise ValueError(f"{shown(raw)} is not a day like “2026-02-27”")
    _check_year(day, FIRST_YEAR)
    return day


def _instant(column: Column[Any], raw: Any) -> datetime:
    try:
        moment = datetime.fromisoformat(raw) if isinstance(raw, str) else None
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise ValueError(f"{shown(raw)} is not a moment like “2026-02-02T08:00:00+00:00”")
    _check_year(moment, FIRST_PHOTO if column.name == "taken_at" else FIRST_YEAR)
    return moment.astimezone(UTC)


def _check_year(day: date, first: int) -> None:
    if not first <= day.year <= LAST_YEAR:
        raise ValueError(f"{day.year} cannot be right: years are from {first} to {LAST_YEAR}")


def _json(_column: Column[Any], raw: Any) -> Any:
    return raw  # looked into by `json_of`, which knows the place


def _text(column: Column[Any], raw: Any) -> str:
    if not isinstance(raw, str):
        raise ValueError(f"{shown(raw)} is not a text")
    text = str(tidy(raw))
    longest = LONGEST_NAME if column.name.endswith("name") or _is_indexed(column) else LONGEST_TEXT
    if len(text) > longest:
        raise ValueError(f"this is longer than {longest:,} characters")
    return text


@cache
def _is_indexed(column: Column[Any]) -> bool:
    table = column.table
    together = [index.columns for index in table.indexes]
    together += [one.columns for one in table.constraints if isinstance(one, UniqueConstraint)]
    return any(column.name in columns for columns in together)


READERS: tuple[tuple[type, Callable[[Column[Any], Any], Any]], ...] = (
    (Boolean, _boolean),
    (Exact, _exact),
    (Instant, _instant),
    (Integer, _whole),
    (Float, _number),
    (Date, _day),
    (JSON, _json),
)
