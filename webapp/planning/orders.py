"""Orders to lay operations out in: every one of a few, and the first guesses for many."""

from collections.abc import Iterator, Sequence

from webapp.planning.cost import due_of
from webapp.planning.graph import Graph, Link, Node
from webapp.planning.hours import Hours
from webapp.planning.instants import DAY, WEEK

SHUT = 7.0  # how far work is stretched in a shop that is shut for the two weeks that are looked at


def free(graph: Graph) -> list[int]:
    """Return the operations whose place the order decides."""
    return [node.number for node in graph.nodes if node.may_move]


def every_order(graph: Graph, numbers: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Yield every order of some operations in which nothing comes before what it waits for.

    Takes: the graph; the operations. Returns: orders, in the order of the list. Raises: nothing. Source: arithmetic.

    >>> from webapp.planning.network import After, Build, Document, Opening, Operation, Shop
    >>> sand = Operation("sand", "sand", 60, after=(After("mill"),))
    >>> steps = Operation("mill", "mill", 60), sand, Operation("fetch", "fetch", 5)
    >>> graph = Graph(Document(0, Shop("UTC", (Opening((3,), 480, 1020),)), builds=(Build("Stool", steps),)))
    >>> list(every_order(graph, [0, 1, 2]))
    [(0, 1, 2), (0, 2, 1), (2, 0, 1)]
    """
    among = set(numbers)
    waits_for = {n: {link.to for link in graph.nodes[n].links} & among for n in numbers}
    yield from _orders((), list(numbers), waits_for)


def _orders(done: tuple[int, ...], left: list[int], waits_for: dict[int, set[int]]) -> Iterator[tuple[int, ...]]:
    if not left:
        yield done
    for number in left:
        if waits_for[number].isdisjoint(left):
            yield from _orders((*done, number), [n for n in left if n != number], waits_for)


def latest_finishes(graph: Graph, hours: Hours) -> list[float]:
    """Return by when each operation would have to end, by a rough count: the first guess at what is urgent.

    Takes:   the graph; the hours of its shop.
    Returns: instants by node: the due of its build less all work and waiting behind it, work stretched by how little
             of the week the shop is open. A build without due has as long as all builds take together.
    Raises:  CircleError when operations wait for each other.
    Source:  the latest finish time rule of Kolisch (1996), on a calendar.
    """
    now = graph.document.now
    open_ = hours.of_maker(0).minutes(now, now + 2 * WEEK)
    stretch = 2 * WEEK / open_ if open_ else SHUT
    horizon = now + sum(node.left for node in graph.nodes) * stretch + 14 * DAY
    dues = [due_of(build, hours) for build in graph.builds]
    behind = [0.0] * len(graph.nodes)
    for number in reversed(list(graph.order())):
        node = graph.nodes[number]
        for follower in graph.followers[number]:
            after = graph.nodes[follower]
            waits = max(_wait(node, link) for link in after.links if link.to == number)
            behind[number] = max(behind[number], waits + after.left * stretch + behind[follower])
    ends = [horizon if due is None else float(due) for due in dues]
    return [ends[node.build] - behind[node.number] for node in graph.nodes]


def _wait(node: Node, link: Link) -> float:
    minutes = next((wait.minutes for wait in node.waits if wait.name == link.stage), 0.0)
    return minutes + link.lag
