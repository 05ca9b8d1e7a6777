"""Looking for a better plan: other orders to lay the operations out in.

With a few operations every order is tried. With many, whole builds are staggered against each other first, since that
is what gains most; then single operations and whole builds are moved in the best order so far. It stops when its
schedules are used up, keeps the best it has seen, and does the same each time.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from webapp.planning.chance import Chance
from webapp.planning.cost import Cost, cost_of
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid
from webapp.planning.orders import every_order, free, latest_finishes
from webapp.planning.place import lay_out

FEW = 7  # operations, of which every order is tried
WORTH = 60  # minutes, of lateness or of finishes, for which the order last shown is given up
STAGGERED = 0.3  # the share of the schedules for whole builds


@dataclass(frozen=True, slots=True)
class Found:
    """A plan that was found: what it costs, in which order it was laid, and how."""

    cost: Cost
    order: tuple[int, ...]
    laid: dict[int, Laid]


def improve(
    graph: Graph,
    hours: Hours,
    schedules: int,
    shown: Sequence[int] | None = None,
    seed: int = 1,
    *,
    worth: int = WORTH,
    pause: Callable[[], object] = lambda: None,
) -> Found:
    """Return the best plan found.

    Takes:   the graph; the hours of its shop; how many orders may be tried; the order last shown, tried first (without
             one that of the document); a seed; how much better another must be than the one shown, in minutes; what is
             called after each order, for a search that makes room for others: what it raises ends the search.
    Returns: the plan that costs least of those tried, the first of equals; the same each time. The order last shown
             stays unless another is better by what that is worth.
    Raises:  CircleError when operations wait for each other.
    Source:  the shop document, rule 9.

    >>> from webapp.planning.network import Build, Document, Opening, Operation, Shop
    >>> steps = Operation("mill", "mill", 240), Operation("fetch", "fetch", 60)
    >>> builds = Build("Chest", steps[:1]), Build("Stool", steps[1:])
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> improve(Graph(Document(0, shop, builds=builds)), Hours(shop), 10).order
    (1, 0)
    """
    search = _Search(graph, hours, schedules, seed, pause)
    first = search.try_order(tuple(range(len(graph.nodes))) if shown is None else shown)
    numbers = free(graph)
    if len(numbers) <= FEW:
        search.try_all(numbers)
    else:
        search.stagger()
        search.move(numbers)
    found = search.best()
    return found if shown is None or _is_worth(found.cost, first.cost, worth) else first


def _is_worth(cost: Cost, shown: Cost, worth: int) -> bool:
    """Whether a plan is so much better than the one last shown that its order is given up for it."""
    if (cost.blocked, cost.missed) != (shown.blocked, shown.missed):
        return cost < shown
    return cost.late <= shown.late - worth or (cost.late <= shown.late and cost.finishes <= shown.finishes - worth)


class _Search:
    def __init__(self, graph: Graph, hours: Hours, schedules: int, seed: int, pause: Callable[[], object]) -> None:
        self.graph, self.hours, self.left, self.pause = graph, hours, max(schedules, 1), pause
        self.whole = self.left
        self.chance = Chance(seed)
        self.found: Found | None = None
        self.urgency = latest_finishes(graph, hours) if schedules > 1 else []
        self.ranks: list[float] = []

    def best(self) -> Found:
        """What was found."""
        assert self.found is not None
        return self.found

    def try_order(self, order: Sequence[int]) -> Found:
        """Lay out one order, and keep it where it is better than all before."""
        self.left -= 1
        kept = tuple(self.graph.order(order))
        laid = lay_out(self.graph, self.hours, kept)
        found = Found(cost_of(self.graph, self.hours, laid), kept, laid)
        if self.found is None or found.cost < self.found.cost:
            self.found = found
        self.pause()
        return found

    def try_all(self, numbers: Sequence[int]) -> None:
        """Try every order of a few operations; the rest goes first, in the order of the document."""
        chosen = set(numbers)
        others = [node.number for node in self.graph.nodes if node.number not in chosen]
        for order in every_order(self.graph, numbers):
            if self.left <= 0:
                return
            self.try_order([*others, *order])

    def try_ranks(self, ranks: list[float]) -> Cost:
        """Lay out by rank, the lowest first."""
        return self.try_order(sorted(range(len(ranks)), key=ranks.__getitem__)).cost

    def stagger(self) -> None:
        """Try builds earlier or later as a whole than their dates ask for."""
        spread = max(self.urgency, default=0) - min(self.urgency, default=0)
        self.ranks = list(self.urgency)
        best: tuple[object, ...] | None = None
        for ranks in self._staggered(spread):
            if self.left <= self.whole * (1 - STAGGERED) or self.left <= 0:
                return
            cost = self._weight(self.try_ranks(ranks))
            if best is None or cost < best:
                best, self.ranks = cost, ranks

    def _staggered(self, spread: float) -> Iterator[list[float]]:
        yield list(self.urgency)
        while True:
            by = [self.chance.between(-spread, spread) for _ in self.graph.builds]
            yield [rank + by[node.build] for rank, node in zip(self.urgency, self.graph.nodes, strict=True)]

    def move(self, numbers: Sequence[int]) -> None:
        """Move single operations and whole builds, from the best staggering on, while the plan gets no worse."""
        if self.left <= 0:
            return
        current = self.ranks
        now = self._weight(self.try_ranks(current))
        while self.left > 0:
            changed = self._changed(current, numbers)
            cost = self._weight(self.try_ranks(changed))
            if cost <= now:
                current, now = changed, cost

    def _changed(self, ranks: list[float], numbers: Sequence[int]) -> list[float]:
        changed = list(ranks)
        if self.chance.share() < 0.3:
            build = self.chance.below(len(self.graph.builds))
            by = self.chance.between(-1, 1) * (max(ranks) - min(ranks)) * self.chance.share()
            for node in self.graph.of_build(build):
                changed[node.number] += by
            return changed
        number = numbers[self.chance.below(len(numbers))]
        other = numbers[self.chance.below(len(numbers))]
        changed[number] = ranks[other] + (1e-3 if ranks[other] > ranks[number] else -1e-3)
        return changed

    @staticmethod
    def _weight(cost: Cost) -> tuple[object, ...]:
        return cost.blocked, cost.missed, cost.late, cost.finishes
