"""The text of a file: JSON in UTF-8, each row of a list on a line of its own, in one fixed form."""

import json
from collections.abc import Iterator
from typing import Any

from webapp.exports.taking_out import File, Lines


def written(file: File) -> Iterator[str]:
    """Yield the text of a file piece by piece."""
    yield from _mapping(file, "")
    yield "\n"


def _mapping(mapping: dict[str, Any], indent: str) -> Iterator[str]:
    deeper = indent + " "
    yield "{"
    between = "" if indent else "\n" + deeper
    for key, value in mapping.items():
        yield f"{between}{_plain(key)}: "
        if isinstance(value, Lines):
            yield from _lines(value, deeper)
        else:
            yield _plain(value)
        between = ", " if indent and not isinstance(value, Lines) else ",\n" + deeper
    yield "}" if indent else "\n}"


def _lines(rows: Lines, indent: str) -> Iterator[str]:
    if not len(rows):
        yield "[]"
        return
    deeper = indent + " "
    between = "[\n"
    for row in rows:
        yield between + deeper
        yield from _mapping(row, deeper)
        between = ",\n"
    yield "\n" + indent + "]"


def _plain(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
