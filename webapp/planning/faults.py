"""Faults of a shop document: where they are, what they say, and the order to say them in.

A document may be wrong in several places and still of a shape to look further into, so every check goes over the raw
mapping and leaves aside what is not of the shape it expects: the schema says that.
"""

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

Path = tuple[str | int, ...]

_PLAIN = re.compile(r"^[^\s.\[\]:\"\\]+$")


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong, at a path from the top of the document."""

    path: Path
    message: str

    def __str__(self) -> str:
        """One line, whatever the document's texts hold."""
        return f"{path_text(self.path)}: {' '.join(self.message.split())}"


class Refused(ValueError):  # noqa: N818 - it is what happens to the document, not an error of ours
    """A shop document that cannot be planned; `faults` has all that is wrong, in document order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))


@dataclass(frozen=True, slots=True)
class Place:
    """A mapping inside the document, and the way to it."""

    path: Path
    data: Mapping[str, Any]

    def each(self, key: str) -> Iterator["Place"]:
        """The mappings in the list under a key."""
        found = self.data.get(key)
        for index, item in enumerate(found if isinstance(found, list) else ()):
            if isinstance(item, dict):
                yield Place((*self.path, key, index), item)

    def under(self, key: str) -> "Place":
        """The mapping under a key, empty where there is none."""
        found = self.data.get(key)
        return Place((*self.path, key), found if isinstance(found, dict) else {})

    def text(self, key: str) -> str | None:
        """The text under a key."""
        found = self.data.get(key)
        return found if isinstance(found, str) else None

    def texts(self, key: str) -> list[str]:
        """The texts in the list under a key."""
        found = self.data.get(key)
        return [item for item in found if isinstance(item, str)] if isinstance(found, list) else []

    def number(self, key: str, default: float = 0) -> float:
        """The number under a key."""
        found = self.data.get(key)
        return found if isinstance(found, int | float) and not isinstance(found, bool) else default

    def fault(self, key: str | int, message: str) -> Fault:
        """A fault at a key of this mapping."""
        return Fault((*self.path, key), message)


class Twice(dict[str, Any]):
    """A mapping read from JSON that named some keys more than once."""

    twice: tuple[str, ...] = ()


def pairs(found: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return a JSON object as a mapping that remembers keys it named twice.

    Takes:   the pairs as they stand.
    Returns: the mapping.
    Raises:  nothing.
    Source:  RFC 8259 section 4 leaves such objects open; we refuse them.

    >>> pairs([("a", 1), ("b", 2), ("a", 3)]).twice
    ('a',)
    """
    mapping = Twice(found)
    if len(mapping) < len(found):
        keys = [key for key, _ in found]
        mapping.twice = tuple(key for key in mapping if keys.count(key) > 1)
    return mapping


def path_text(path: Path) -> str:
    """Return a path as it stands in a message.

    Takes:   keys and indexes from the top.
    Returns: text like builds[0].operations[3].minutes; keys that would not read as one word stand in brackets.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> path_text(("builds", 0, "operations", 3, "minutes")), path_text(("reached", "clamps off"))
    ('builds[0].operations[3].minutes', 'reached["clamps off"]')
    """
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        elif _PLAIN.match(step):
            text += f".{step}" if text else step
        else:
            text += '["' + step.encode("unicode_escape").decode("ascii").replace('"', '\\"') + '"]'
    return text or "document"


def in_order(faults: Iterable[Fault], document: Any) -> list[Fault]:
    """Return faults in the order of the document, one for each place and message.

    Takes:   faults; the document they are of.
    Returns: the faults; a key that is missing comes after those that are there.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> [f.path for f in in_order([Fault(("b",), "x"), Fault(("a",), "x")], {"a": 1, "b": 2})]
    [('a',), ('b',)]
    """
    return sorted(dict.fromkeys(faults), key=lambda fault: _position(fault.path, document))


def _position(path: Path, document: Any) -> list[int]:
    position, at = [], document
    for step in path:
        if isinstance(at, list) and isinstance(step, int) and step < len(at):
            position.append(step)
            at = at[step]
        elif isinstance(at, dict) and step in at:
            position.append(list(at).index(str(step)))
            at = at[str(step)]
        else:
            position.append(len(at) if isinstance(at, list | dict) else 0)
            at = None
    return position


def unreadable(value: Any, path: Path = ()) -> Iterator[Fault]:
    """Yield what JSON lets pass but nobody can read: keys named twice, numbers that are not finite.

    Takes:   the document, or a part of it with the path to it.
    Returns: faults.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> [str(fault) for fault in unreadable({"a": [1, float("nan")]})]
    ['a[1]: is not a finite number']
    """
    if isinstance(value, float) and not math.isfinite(value):
        yield Fault(path, "is not a finite number")
    if isinstance(value, Twice):
        yield from (Fault((*path, key), "this key stands here twice") for key in value.twice)
    if isinstance(value, dict | list):
        for key, item in value.items() if isinstance(value, dict) else enumerate(value):
            yield from unreadable(item, (*path, key))
