"""The plan last shown, as an order to keep to: people have read it, so nothing moves without a gain."""

from collections.abc import Iterator, Mapping
from typing import Any

from webapp.planning import iso
from webapp.planning.carried import carried
from webapp.planning.faults import Fault, Place, Refused
from webapp.planning.graph import Graph
from webapp.planning.instants import up
from webapp.trade.air.readings import NEVER

VERSION = 1
Key = tuple[str, str]  # name of the build, key of the operation


def order_of(plan: Any, graph: Graph) -> list[int]:
    """Return the order in which a printed plan has the operations of a document.

    Takes:   the plan as read from JSON; the graph of the document, which may have changed since.
    Returns: all nodes of the graph, once: those in the plan in order of start, without what is gone or was put in; each
             new one behind what it waits for, or else behind the one before it in its build, or else last.
    Raises:  Refused for what is no plan, with paths that begin with `shown`.
    Source:  the shop document, `--shown`.

    >>> from webapp.planning.network import Build, Document, Operation, Shop
    >>> steps = tuple(Operation(key, "mill", 60) for key in ("mill", "drill", "sand"))
    >>> starts = {"sand": "2026-02-02T08:00:00Z", "gone": "2026-02-02T08:30:00Z", "mill": "2026-02-02T09:00:00Z"}
    >>> shown = {"name": "Stool", "operations": [{"key": key, "start": start} for key, start in starts.items()]}
    >>> graph = Graph(Document(0, Shop("UTC", ()), builds=(Build("Stool", steps),)))
    >>> [graph.nodes[number].key for number in order_of({"benchtide": 1, "builds": [shown]}, graph)]
    ['sand', 'mill', 'drill']
    """
    numbers = {(graph.builds[node.build].name, node.key): node.number for node in graph.nodes}
    return carried(graph, [numbers[key] for key in keys_of(plan) if key in numbers])


def keys_of(plan: Any) -> list[Key]:
    """Return the operations of a printed plan in order of start, each once; those without a start last.

    Takes:   the plan as read from JSON.
    Returns: the name of the build and the key of each.
    Raises:  Refused for what is no plan of this version.
    Source:  the shop document, "Output".

    >>> keys_of({"benchtide": 1, "builds": [{"name": "Stool", "operations": [{"key": "mill", "start": None}]}]})
    [('Stool', 'mill')]
    """
    faults = list(_faults(plan))
    if faults:
        raise Refused(faults)
    found = [
        (_start(operation.data), build.data["name"], operation.data["key"])
        for build in _builds(plan)
        for operation in build.each("operations")
    ]
    return list(dict.fromkeys((name, key) for _, name, key in sorted(found, key=lambda one: one[0])))


def _builds(plan: Mapping[str, Any]) -> Iterator[Place]:
    return Place(("shown",), plan).each("builds")


def _start(operation: Mapping[str, Any]) -> int:
    return NEVER if operation.get("start") is None else up(iso.instant(operation["start"]))


def _faults(plan: Any) -> Iterator[Fault]:
    if not isinstance(plan, dict):
        yield Fault(("shown",), "is not a plan; give the file that an earlier run printed")
        return
    version = plan.get("benchtide")
    if type(version) is not int or version != VERSION:
        yield Fault(
            ("shown", "benchtide"), f"is not version {VERSION} of the format; give a plan that was printed before"
        )
    top = Place(("shown",), plan)
    yield from _listed(top, "builds")
    for build in top.each("builds"):
        yield from _texts(build, "name")
        yield from _listed(build, "operations")
        for operation in build.each("operations"):
            yield from _texts(operation, "key")
            yield from _start_faults(operation)


def _listed(place: Place, key: str) -> Iterator[Fault]:
    found = place.data.get(key)
    if not isinstance(found, list):
        yield place.fault(key, "is missing, or not a list")
        return
    for number, one in enumerate(found):
        if not isinstance(one, dict):
            yield Fault((*place.path, key, number), "is not an object")


def _texts(place: Place, key: str) -> Iterator[Fault]:
    if place.text(key) is None:
        yield place.fault(key, "is missing, or not a text")


def _start_faults(operation: Place) -> Iterator[Fault]:
    start = operation.data.get("start")
    if start is None:
        return
    try:
        iso.instant(start if isinstance(start, str) else "")
    except iso.IsoError as error:
        yield operation.fault("start", str(error))
