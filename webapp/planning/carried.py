"""An order carried over what has changed since it was found: what is new finds a place in it."""

from collections.abc import Iterable, Sequence

from webapp.planning.graph import Graph


def carried(graph: Graph, order: Iterable[int]) -> list[int]:
    """Return an order of some nodes with all others put in.

    Takes:   the graph; the nodes whose order is known.
    Returns: all nodes, once. A new one stands behind what it waits for, or else before the first that waits for it, or
             else behind the one before it in its build, or else last.
    Raises:  CircleError when operations wait for each other.
    Source:  shop rule: what was shown stays as it is.

    >>> from webapp.planning.network import After, Build, Document, Operation, Shop
    >>> steps = Operation("mill", "mill", 60), Operation("sand", "sand", 60, after=(After("mill"),))
    >>> builds = Build("Chest", steps), Build("Stool", steps)
    >>> carried(Graph(Document(0, Shop("UTC", ()), builds=builds)), [2, 1])
    [2, 3, 0, 1]
    """
    found = list(order)
    placed = set(found)
    for number in graph.order():
        if number not in placed:
            found.insert(_place(graph, number, found), number)
            placed.add(number)
    return found


def _place(graph: Graph, number: int, order: Sequence[int]) -> int:
    places = {other: place for place, other in enumerate(order)}
    node = graph.nodes[number]
    waits_for = [places[link.to] for link in node.links if link.to in places]
    if waits_for:
        return max(waits_for) + 1
    waiting = [places[other] for other in _waiting(graph, number, places)]
    if waiting:
        return min(waiting)
    before = number - 1
    if before in places and graph.nodes[before].build == node.build:
        return places[before] + 1
    return len(order)


def _waiting(graph: Graph, number: int, placed: Iterable[int]) -> set[int]:
    """The nodes of those placed that wait for one, or for what is new and waits for it."""
    known, found, passed = set(placed), set[int](), {number}
    edge = list(graph.followers[number])
    while edge:
        other = edge.pop()
        if other in known:
            found.add(other)
        elif other not in passed:
            passed.add(other)
            edge += graph.followers[other]
    return found
