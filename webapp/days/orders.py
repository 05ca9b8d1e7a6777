"""The order in which the plan of a shop is shown, as this process knows it: found last, and carried over what changed.

Nothing is stored: after a start it is found anew. Each process finds its own, the same from the same document; one that
has seen the shop before keeps to what it showed, as long as that is worse by less than WORTH.
"""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from threading import Lock
from typing import Any
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from webapp.planning.carried import carried
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.improve import WORTH, Found, improve
from webapp.planning.network import Document
from webapp.planning.plan import told
from webapp.planning.planned import Plan, PlannedBuild

MOST = 50  # shops
# orders that a request may try itself: some 30 ms, so that a small shop is right at once
AT_ONCE, LAID_AT_ONCE = 60, 600
STALE = 60  # minutes: what was searched through that long ago is searched again, for what could begin did not


@dataclass(frozen=True)
class Gain:
    """When a better order was found, and what it gained over all: minutes less late (0: below WORTH), or sooner."""

    at: datetime
    late: int
    sooner: int


@dataclass(frozen=True)
class Searched:
    """What a search said: for which document, the plan, and what it gained where the order is another."""

    document: Document
    plan: Plan
    gain: Gain | None


@dataclass(frozen=True)
class Order:
    """Operations by id, the first first, and the search that said so, where there was one."""

    steps: tuple[int, ...]
    searched: Searched | None = None


class Known:
    """What is known of one shop."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._searched: Document | None = None
        self.order: Order | None = None

    def put(self, order: Order, instead_of: Order | None) -> None:
        """Keep an order, where nobody has put another since."""
        with self._lock:
            if self.order is instead_of:
                self.order = order

    def is_new(self, document: Document) -> bool:
        """Whether a document is to be searched through: another than the last one, or that an hour later."""
        with self._lock:
            last = self._searched
            if last is not None and 0 <= document.now - last.now < STALE and replace(document, now=last.now) == last:
                return False
            self._searched = document
            return True


_known: WeakKeyDictionary[Any, OrderedDict[int, Known]] = WeakKeyDictionary()
_lock = Lock()


def known_of(db: Session, shop_id: int) -> Known:
    """Return what this process knows of a shop of a database."""
    with _lock:
        shops = _known.setdefault(db.get_bind(), OrderedDict())
        found = shops.setdefault(shop_id, Known())
        shops.move_to_end(shop_id)
        while len(shops) > MOST:
            shops.popitem(last=False)
        return found


def laid_at_once(document: Document, steps: Sequence[int], order: Order | None) -> tuple[Order, Plan]:
    """Return the plan of a document as a request lays it out: in the order known, or by the best of a few.

    `steps` are the ids of the operations as they stand in the document.
    """
    graph, hours = Graph(document), Hours(document.shop)
    tries = min(AT_ONCE, LAID_AT_ONCE // max(len(steps), 1))
    if order is None:
        found = improve(graph, hours, max(tries, 2))  # that of the document, and by what is urgent
        return Order(_ids(found, steps)), told(graph, hours, found.laid)
    shown = _places(graph, steps, order)
    found = improve(graph, hours, max(tries, 1), shown)
    if found.order != tuple(graph.order(shown)):
        order = replace(order, steps=_ids(found, steps))
    return order, told(graph, hours, found.laid)


def searched(
    document: Document,
    steps: Sequence[int],
    order: Order,
    schedules: int,
    now: Callable[[], datetime],
    pause: Callable[[], object],
) -> Order:
    """Return the order in which to show the plan of a document from now on, found by trying so many."""
    graph, hours = Graph(document), Hours(document.shop)
    shown = _places(graph, steps, order)
    first = improve(graph, hours, 1, shown)
    # what a request tried alone is given up for whatever is better: nobody has read it for long
    worth = WORTH if order.searched else 0
    found = improve(graph, hours, schedules, shown, worth=worth, pause=pause)
    plan = told(graph, hours, found.laid)
    gain = None if found.order == first.order else _gain(told(graph, hours, first.laid), plan, now())
    return Order(_ids(found, steps), Searched(document, plan, gain))


def _ids(found: Found, steps: Sequence[int]) -> tuple[int, ...]:
    return tuple(steps[number] for number in found.order)


def _places(graph: Graph, steps: Sequence[int], order: Order) -> list[int]:
    """Return the nodes of a graph in an order that was found for an earlier state of the shop."""
    numbers = {step: number for number, step in enumerate(steps)}
    return carried(graph, [numbers[step] for step in order.steps if step in numbers])


def _gain(before: Plan, after: Plan, at: datetime) -> Gain | None:
    """What is worth saying of a better order; nothing where it changes what can be done at all."""
    if [build.finish is None for build in before.builds] != [build.finish is None for build in after.builds]:
        return None
    late, sooner = (sum(one) for one in zip(*map(_gained, before.builds, after.builds), strict=True))
    if late < WORTH and sooner < WORTH:
        return None
    return Gain(at, late if late >= WORTH else 0, sooner)


def _gained(before: PlannedBuild, after: PlannedBuild) -> tuple[int, int]:
    return (before.minutes_late or 0) - (after.minutes_late or 0), (before.finish or 0) - (after.finish or 0)
