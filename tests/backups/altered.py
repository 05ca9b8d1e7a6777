"""Whole archives altered in one place: what is done to the parts, and what must be said of it."""

import json
from collections.abc import Callable

from tests.backups import making
from tests.backups.making import with_list, with_manifest, with_value
from webapp.backups.layout import LONGEST_LINE

Parts = dict[str, bytes]
ORIGINAL = f"photos/{making.PHOTOS[0]}.original"
DEEP = b"[" * 100_000 + b"]" * 100_000


def more(name: str, content: bytes = b"x") -> Callable[[Parts], Parts]:
    return lambda parts: {**parts, name: content}


def less(name: str) -> Callable[[Parts], Parts]:
    return lambda parts: {key: value for key, value in parts.items() if key != name}


def said(**changes: object) -> Callable[[Parts], Parts]:
    return lambda parts: with_manifest(parts, **changes)


def listed(name: str, change: Callable[[bytes], bytes]) -> Callable[[Parts], Parts]:
    return lambda parts: with_list(parts, name, change(parts[name]))


def value(table: str, column: str, found: object) -> Callable[[Parts], Parts]:
    return lambda parts: with_value(parts, table, column, found)


def part_of_rows(**changes: object) -> Callable[[Parts], Parts]:
    def change(parts: Parts) -> Parts:
        rows = json.loads(parts["manifest.json"])["rows"]
        return with_manifest(parts, rows={**rows, "build": {**rows["build"], **changes}})

    return change


def without_column(text: bytes) -> bytes:
    first, *rest = text.split(b"\n")
    row = json.loads(first)
    row.pop("name")
    return b"\n".join([json.dumps(row).encode(), *rest])


# what is done to the parts of a whole archive, and what must be said of it
ALTERED: dict[str, tuple[Callable[[Parts], Parts], str]] = {
    "a path upwards": (more("../../etc/cron.d/x"), "does not belong into a backup"),
    "a path upwards among the photos": (more("photos/../../x"), "does not belong into a backup"),
    "an absolute path": (more("/etc/passwd"), "does not belong into a backup"),
    "a path of Windows": (more("C:\\Windows\\x"), "does not belong into a backup"),
    "a path with backslashes": (more("photos\\..\\..\\x"), "does not belong into a backup"),
    "a folder": (more("photos/"), "does not belong into a backup"),
    "a name with a line break": (more("rows/build.jsonl\n"), "does not belong into a backup"),
    "a name in other letters": (more("rows/bu\u0131ld.jsonl"), "does not belong into a backup"),
    "a zip within the zip": (more("inner.zip"), "does not belong into a backup"),
    "a program": (more("photos/x.sh"), "does not belong into a backup"),
    "a database": (more("benchtide.db"), "does not belong into a backup"),
    "a photo no row names": (more(f"photos/{'0' * 64}.original"), "holds photos/0000"),
    "rows of no table": (more("rows/password.jsonl"), "holds rows/password.jsonl"),
    "no manifest": (less("manifest.json"), "no backup of Benchtide"),
    "no rows of a table": (less("rows/build.jsonl"), "rows/build.jsonl is missing"),
    "no list of photos": (less("photos.jsonl"), "photos.jsonl is missing"),
    "a photo that is gone": (less(ORIGINAL), "is missing in the archive"),
    "another photo": (more(ORIGINAL, b"original 2"), "is not the file it was"),
    "rows changed": (lambda parts: {**parts, "rows/build.jsonl": parts["rows/build.jsonl"] + b" "}, "cannot be read"),
    "rows with other words": (
        lambda parts: {**parts, "rows/build.jsonl": parts["rows/build.jsonl"].replace(b"quoted", b"QUOTED")},
        "rows/build.jsonl is not as it was",
    ),
    "a manifest that is no JSON": (more("manifest.json", b"{"), "cannot be read"),
    "a manifest nested deep": (more("manifest.json", DEEP), "nested too deep"),
    "a manifest without end": (more("manifest.json", b" " * (2 << 20)), "manifest.json is too long"),
    "a manifest in other bytes": (more("manifest.json", b"\xff\xfe\x00"), "cannot be read"),
    "a key twice in the manifest": (more("manifest.json", b'{"format": 1, "format": 2}'), "stands there twice"),
    "a manifest of something else": (said(format="other"), "no backup of Benchtide"),
    "a manifest that is a list": (more("manifest.json", b"[]"), "no backup of Benchtide"),
    "a newer form of archive": (said(number=2, version="3.1"), "made by Benchtide 3.1, which is newer"),
    "tables of a newer version": (said(revision="20300101a", version="9.0"), "made by Benchtide 9.0, which is newer"),
    "tables of no version": (said(revision="head"), "Update Benchtide first"),
    "tables by half a name": (said(revision="2026"), "Update Benchtide first"),
    "a moment that is none": (said(begun="yesterday"), r"\$\.begun"),
    "an ending with a path": (said(endings=["original", "../x"]), r"\$\.endings"),
    "more words in the manifest": (said(also=1), "not as it should be"),
    "fewer rows than said": (part_of_rows(count=3), "not as it was when"),
    "a count below nothing": (part_of_rows(count=-1), r"\$\.rows\.build\.count"),
    "a hash that is none": (part_of_rows(sha256="x"), r"\$\.rows\.build\.sha256"),
    "a table forgotten": (lambda parts: with_manifest(parts, rows={}), "The tables are not those"),
    "a column forgotten": (listed("rows/build.jsonl", without_column), "does not have the columns"),
    "a column too many": (value("build", "is_admin", 1), "does not have the columns"),
    "text where a number belongs": (value("operation", "minutes", "60; DROP TABLE build"), "something in minutes"),
    "a number where text belongs": (value("build", "name", 7), "something in name"),
    "nothing where something belongs": (value("build", "name", None), "something in name"),
    "no id": (value("build", "id", None), "something in id"),
    "yes as a word": (value("shop", "is_invented", True), "something in is_invented"),
    "two as yes": (value("shop", "is_invented", 2), "something in is_invented"),
    "NaN": (value("shop", "climate_day", float("nan")), "NaN is no number"),
    "a number past all": (listed("rows/shop.jsonl", lambda text: text.replace(b"20.1", b"1e999", 1)), "is no number"),
    "an integer past all": (value("operation", "minutes", 10**30), "something in minutes"),
    "an integer of 5,000 digits": (
        listed("rows/operation.jsonl", lambda text: text.replace(b'"minutes": 7', b'"minutes": ' + b"9" * 5000, 1)),
        "cannot be read",
    ),
    "text with a NUL": (value("build", "name", "Hall\0table"), "something in name"),
    "half a character": (value("build", "name", "\ud800"), "something in name"),
    "a day that is none": (value("build", "due_on", "2026-02-30"), "something in due_on"),
    "a moment without its hours": (value("build", "created_at", "2026-02-03"), "something in created_at"),
    "JSON that is none": (value("entry", "data", "{"), "cannot be read"),
    "JSON nested deep": (value("entry", "data", "[" * 500 + "]" * 500), "something in data"),
    "JSON nested past all": (value("entry", "data", DEEP.decode()), "nested too deep"),
    "JSON with a NUL": (value("entry", "data", '{"note": "\\u0000"}'), "something in data"),
    "lists where text belongs": (value("build", "name", ["a", "b"]), "something in name"),
    "a photo with a path for a hash": (value("photo", "sha256", "../../../etc/passwd"), "which is no hash"),
    "a shop that is not there": (value("build", "shop_id", 99), "do not go together"),
    "the same id twice": (value("build", "id", 2), "does not fit its table"),
    "against a rule of the table": (value("operation", "minutes", -5), "does not fit its table"),
    "a row that is no row": (listed("rows/build.jsonl", lambda _: b"[1, 2]\n"), "does not have the columns"),
    "a row nested deep": (listed("rows/build.jsonl", lambda _: DEEP + b"\n"), "nested too deep"),
    "a line without end": (listed("rows/build.jsonl", lambda _: b" " * (LONGEST_LINE + 2)), "too long"),
    "no photos in the list": (listed("photos.jsonl", lambda _: b""), "which a row names"),
    "a path in the list": (
        listed("photos.jsonl", lambda text: text.replace(b"small.webp", b"../../x")),
        "where the rows name",
    ),
    "a list of other words": (listed("photos.jsonl", lambda _: b'{"name": 1}\n'), "is not as it should be"),
    "a size that is a word": (
        listed("photos.jsonl", lambda text: text.replace(b'"size": 10', b'"size": "10"', 1)),
        "photos.jsonl is not as it should be",
    ),
    "a photo said to be missing": (
        listed("photos.jsonl", lambda text: text.replace(b'"size": 10', b'"size": null', 1)),
        "unlike its list",
    ),
}  # fmt: skip
