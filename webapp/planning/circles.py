"""Circles among the operations of a build: work that waits for itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from webapp.planning.faults import Fault, Place

_Links = Mapping[str, list[tuple[str, str]]]  # of each operation: the key that refers, the operation it waits for


def circles(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield a fault for each circle, at the first operation in document order that lies on it.

    Takes:   the document as read from JSON, of any shape.
    Returns: faults, each with the whole circle in its message.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> after = lambda key, other: {"key": key, "after": [{"operation": other}]}
    >>> [str(f) for f in circles({"builds": [{"operations": [after("a", "b"), after("b", "a")]}]})]
    ['builds[0].operations[0].after: a circle: "a" waits for "b", which waits for "a"']
    """
    for build in Place((), document).each("builds"):
        places = {place.text("key") or "": place for place in reversed(list(build.each("operations")))}
        links = _links(build)
        seen: set[str] = set()
        for key in (place.text("key") or "" for place in build.each("operations")):
            circle = [] if key in seen else _circle(key, links)
            if circle:
                seen.update(circle)
                steps = ", which waits for ".join(f'"{other}"' for other in [*circle[1:], key])
                yield places[key].fault(_by(key, [*circle, key][1], links), f'a circle: "{key}" waits for {steps}')


def _links(build: Place) -> _Links:
    """What each operation waits for, an abandoned one standing for the one that does it again."""
    operations = list(build.each("operations"))
    again: dict[str, str] = {}
    for operation in operations:
        again.setdefault(operation.text("again_for") or "", operation.text("key") or "")
    abandoned = {operation.text("key") for operation in operations if operation.data.get("abandoned") is not None}

    def meant(key: str) -> str:
        passed = {key}
        while key in abandoned and again.get(key, key) not in passed:
            key = again[key]
            passed.add(key)
        return key

    links: dict[str, list[tuple[str, str]]] = {}
    for operation in operations:
        key = operation.text("key") or ""
        named = [("after", after.text("operation")) for after in operation.each("after")]
        named.append(("over", operation.text("over")))
        # A link to the abandoned work that this very operation does again says nothing.
        kept = [(by, other) for by, other in named if other and not (other in abandoned and meant(other) == key)]
        links.setdefault(key, [(by, meant(other)) for by, other in kept])
    return links


def _circle(start: str, links: _Links) -> list[str]:
    """The keys of the shortest circle through an operation, in order of waiting; none where it lies on no circle."""
    came_from: dict[str, str] = {}
    edge = [start]
    while edge:
        following = []
        for key in edge:
            for _, other in links.get(key, ()):
                if other == start:
                    return _way(start, key, came_from)
                if other not in came_from:
                    came_from[other] = key
                    following.append(other)
        edge = following
    return []


def _way(start: str, end: str, came_from: Mapping[str, str]) -> list[str]:
    way = [end]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return way[::-1]


def _by(key: str, other: str, links: _Links) -> str:
    return next(by for by, named in links[key] if named == other)
