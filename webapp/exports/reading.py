"""From the bytes of a file to what JSON makes of it, before anything else is believed of it."""

import json
import math
from collections.abc import Iterator
from typing import Any

from webapp.exports.kinds import FORMATS, NUMBER
from webapp.planning.faults import Path, path_text

MEGABYTE = 1 << 20
LONGEST = 64 * MEGABYTE
MOST_PARTS = 1_500_000  # objects and lists: each takes far more memory than the two bytes it may be written with
MOST_TEXTS = 10_000_000
DEEPEST = 16
LONGEST_SHOWN = 60


class RefusedError(ValueError):
    """A file that cannot be put in; the text is one sentence that names the place."""


def refuse(path: Path, says: str) -> RefusedError:
    """Return the refusal of something at a place of the file."""
    said = " ".join(says.split())
    return RefusedError(f"{path_text(path)}: {said}" if path else said[:1].upper() + said[1:])


def shown(value: Any) -> str:
    """Return a value as a sentence names it."""
    text = f"“{value}”" if isinstance(value, str) else "this" if isinstance(value, dict | list) else str(value)
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"


class _Twice(dict[str, Any]):
    """An object that names a key twice; `key` is the first of them."""

    key = ""


def read(content: bytes) -> tuple[str, dict[str, Any]]:
    """Return what a file holds, a shop or a build, and the mapping it is. Raises RefusedError."""
    file = _parsed(content)
    if not isinstance(file, dict):
        raise refuse((), "this is JSON, but not a shop or a build that was taken out of Benchtide.")
    held = _held(file)
    for fault in _unreadable(file, ()):
        raise fault
    return held, file


def _parsed(content: bytes) -> Any:
    _check_size(content)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refuse((), f"this is not text in UTF-8 (byte {error.start}).") from None
    try:
        return json.loads(text, object_pairs_hook=_object, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        raise refuse((), f"this is not JSON: {error.msg}, line {error.lineno} column {error.colno}.") from None
    except RecursionError:
        raise refuse((), "this is nested too deeply to be a file of Benchtide.") from None
    except ValueError as error:
        raise refuse((), f"this is not JSON: {str(error)[:LONGEST_SHOWN]}.") from None


def _check_size(content: bytes) -> None:
    if len(content) > LONGEST:
        raise refuse((), f"this is longer than {LONGEST // MEGABYTE} MB, which no shop is without its pictures.")
    if not content.strip():
        raise refuse((), "this is empty. Take it out once more.")
    parts = content.count(b"{") + content.count(b"[")
    if parts > MOST_PARTS or content.count(b'"') > MOST_TEXTS:
        raise refuse((), f"this has more rows than Benchtide takes at once ({MOST_PARTS:,}).")


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) == len(pairs):
        return found
    twice, seen = _Twice(found), set()
    for key, _ in pairs:
        if key in seen:
            twice.key = key
            break
        seen.add(key)
    return twice


def _no_number(word: str) -> None:
    raise ValueError(f"{word} is no number")


def _held(file: dict[str, Any]) -> str:
    name, number = file.get("format"), file.get("number")
    if "benchtide" in file and "format" not in file:
        raise refuse((), "this is a shop document for planning, without the record. Take the shop out under Shop.")
    if not isinstance(name, str) or name not in FORMATS:
        known = " or ".join(f"“{one}”" for one in FORMATS)
        raise refuse(("format",), f"this is not a file of Benchtide, which says {known} here.")
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        raise refuse(("number",), f"the format has a number here: {NUMBER}.")
    if number > NUMBER:
        by = str(file.get("version", ""))[:20]
        says = f"this was taken out of a newer Benchtide ({by}, format {number}); this one reads format {NUMBER}."
        raise refuse(("number",), f"{says} Update this server, then put it in.")
    return FORMATS[name]


def _unreadable(value: Any, path: Path) -> Iterator[RefusedError]:
    """Yield what JSON lets pass and nobody can read: keys named twice, numbers without end, too deep a nest."""
    if len(path) > DEEPEST:
        yield refuse(path, "this is nested too deeply.")
        return
    if isinstance(value, _Twice):
        yield refuse((*path, value.key), "this key stands here twice.")
    elif isinstance(value, float) and not math.isfinite(value):
        yield refuse(path, "this is not a finite number.")
    if isinstance(value, dict):
        for key, item in value.items():
            yield from _unreadable(item, (*path, key))
    elif isinstance(value, list):
        for number, item in enumerate(value):
            yield from _unreadable(item, (*path, number))
