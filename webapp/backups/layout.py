"""How an archive is laid out: its names, its manifest, its limits. DEVELOPERS.md has the same in words."""

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from math import isfinite
from typing import Any

from jsonschema import Draft202012Validator

FORMAT = "benchtide backup"
NUMBER = 1
VERSION = "0.1.0"  # of Benchtide; held to pyproject.toml by a test

MANIFEST, READ_ME, PHOTOS = "manifest.json", "README.txt", "photos.jsonl"
TABLE = re.compile(r"[a-z][a-z_]{0,60}", re.ASCII)
NAME = re.compile(
    r"manifest\.json|README\.txt|photos\.jsonl|rows/[a-z][a-z_]{0,60}\.jsonl"
    r"|photos/[0-9a-f]{64}\.[a-z]{1,20}(\.[a-z0-9]{1,10})?",
    re.ASCII,
)
SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)

LONGEST_MANIFEST = 1 << 20  # bytes
LONGEST_LINE = 4 << 20
LONGEST_DIRECTORY = 64 << 20
MOST_FILES = 300_000
DEEPEST = 32  # lists within lists in a value
CHUNK = 1 << 20

SAYS = """This is a backup of Benchtide, a project journal for furniture makers.

manifest.json   which version made it and when, how many rows each table has, the SHA-256 of each list
rows/*.jsonl    one table each; one row a line, as JSON in UTF-8
                times are UTC, lengths nanometres (_nm), money whole cents or pence (_minor),
                quantities and percents ten-thousandths; lists within a row are JSON in a string
photos.jsonl    each file of a photo with its size and SHA-256
photos/         the files; a photo's own name is the SHA-256 of the file as it was sent (.original)

To bring it back: benchtide restore FILE
"""


class ArchiveError(ValueError):
    """A file that is no backup, not a whole one, or one this version cannot read; the text says why."""


@dataclass(frozen=True)
class Part:
    """One list of an archive: its lines, its bytes, its hash."""

    count: int
    size: int
    sha256: str


@dataclass(frozen=True)
class Manifest:
    """What an archive says of itself."""

    version: str
    revision: str
    begun: datetime
    endings: tuple[str, ...]
    photos: Part
    rows: Mapping[str, Part]

    @property
    def row_count(self) -> int:
        return sum(part.count for part in self.rows.values())

    def text(self) -> str:
        return json.dumps(
            {
                "format": FORMAT,
                "number": NUMBER,
                "version": self.version,
                "revision": self.revision,
                "begun": self.begun.isoformat(),
                "endings": list(self.endings),
                "photos": asdict(self.photos),
                "rows": {table: asdict(part) for table, part in self.rows.items()},
            },
            indent=1,
        )


_WHOLE = {"type": "integer", "minimum": 0, "maximum": 2**53}
_PART = {
    "type": "object",
    "properties": {"count": _WHOLE, "size": _WHOLE, "sha256": {"type": "string", "pattern": "^[0-9a-f]{64}\\Z"}},
    "required": ["count", "size", "sha256"],
    "additionalProperties": False,
}
_SCHEMA = Draft202012Validator(
    {
        "type": "object",
        "properties": {
            "format": {"const": FORMAT},
            "number": {"const": NUMBER},
            "version": {"type": "string", "maxLength": 40},
            "revision": {"type": "string", "maxLength": 40},
            "begun": {"type": "string", "maxLength": 40},
            "endings": {
                "type": "array",
                "items": {"type": "string", "pattern": "^[a-z]{1,20}(\\.[a-z0-9]{1,10})?\\Z"},
                "uniqueItems": True,
                "contains": {"const": "original"},
                "maxItems": 20,
            },
            "photos": _PART,
            "rows": {
                "type": "object",
                "propertyNames": {"pattern": "^[a-z][a-z_]{0,60}\\Z"},
                "additionalProperties": _PART,
                "maxProperties": 500,
            },
        },
        "required": ["format", "number", "version", "revision", "begun", "endings", "photos", "rows"],
        "additionalProperties": False,
    }
)


def read_manifest(content: bytes) -> Manifest:
    """Return what a manifest says; raise ArchiveError where it is none, or one of a newer form."""
    found = strict(content, MANIFEST)
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise ArchiveError("This is no backup of Benchtide.")
    number = found.get("number")
    if isinstance(number, int) and number > NUMBER:
        raise ArchiveError(newer(str(found.get("version"))[:40], f"the archive has the form {number}"))
    wrong = next(iter(_SCHEMA.iter_errors(found)), None)
    if wrong is not None:
        raise ArchiveError(f"{MANIFEST} is not as it should be ({wrong.json_path}).")
    return Manifest(
        version=found["version"],
        revision=found["revision"],
        begun=_moment(found["begun"]),
        endings=tuple(found["endings"]),
        photos=_part(found["photos"]),
        rows={table: _part(part) for table, part in found["rows"].items()},
    )


def newer(version: str, why: str) -> str:
    return (
        f"This backup was made by Benchtide {version}, which is newer than this one, {VERSION} ({why}). "
        "Update Benchtide first, then restore it."
    )


def _part(found: Mapping[str, Any]) -> Part:
    return Part(int(found["count"]), int(found["size"]), found["sha256"])


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise ArchiveError(f"{MANIFEST} is not as it should be ($.begun).")
    return moment


def line_of(row: Mapping[str, Any]) -> bytes:
    return json.dumps(row, ensure_ascii=False, allow_nan=False).encode() + b"\n"


def strict(content: bytes | str, where: str) -> Any:
    """Return what JSON says; raise ArchiveError for what is none, for NaN, for a key named twice, for depth."""
    try:
        return json.loads(content, parse_constant=_no_number, parse_float=_finite, object_pairs_hook=_once)
    except (ValueError, RecursionError) as error:  # bad UTF-8 and numbers of thousands of digits are ValueErrors too
        why = "nested too deep" if isinstance(error, RecursionError) else str(error)
        raise ArchiveError(f"{where} cannot be read: {why}.") from None


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is no number")


def _finite(text: str) -> float:
    found = float(text)
    return found if isfinite(found) else _no_number(text)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a name stands there twice")
    return found
