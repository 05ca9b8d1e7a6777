"""One row of a file, on its way in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from webapp.exports.keys import KEY
from webapp.exports.kinds import Kind
from webapp.exports.reading import refuse, shown
from webapp.planning.faults import Path


@dataclass(eq=False)
class Row:
    """One row of the file: its values, the rows it names, the row it stands in. The id comes when it is put in."""

    kind: Kind
    path: Path
    raw: Mapping[str, Any]
    above: "Row | None" = None
    values: dict[str, Any] = field(default_factory=dict)
    names: dict[str, "Row | None"] = field(default_factory=dict)
    key: Any = None  # of a line of the journal its key, of a photo its number
    id: Any = None
    is_skipped: bool = False  # it is in the shop already, or its picture is nowhere to be found

    @property
    def build(self) -> "Row | None":
        """The build it belongs to."""
        row: Row | None = self
        while row is not None and row.kind.name != "builds":
            row = row.above
        return row


def mapping_of(value: Any, path: Path) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise refuse(path, "is missing." if value is None else f"{shown(value)} is not an object.")
    return value


def refuse_unknown(mapping: Mapping[str, Any], known: Iterable[str], path: Path) -> None:
    for key in mapping:
        if key not in known:
            raise refuse((*path, key), "this key is not known.")


def line_key(raw: Any, path: Path) -> str:
    if not isinstance(raw, str) or not KEY.fullmatch(raw):
        raise refuse(path, f"{shown(raw)} is not the key of a line, like “12” or “photo-3”.")
    return raw
