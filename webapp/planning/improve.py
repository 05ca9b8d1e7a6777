"""Looking for a better plan: other orders to lay the operations out in.

With a few operations every order is tried. With many, whole builds are put in order first, since that is what gains
most; then single operations and whole builds are moved in the best order so far. It stops when its schedules are used
up, keeps the best it has seen, and does the same each time.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.planning.chance import Chance
from webapp.planning.cost import Cost, cost_of, due_of, finish_of
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.laid import Laid
from webapp.planning.orders import every_order, free, latest_finishes
from webapp.planning.place import lay_out
from webapp.planning.staggering import Whole, promising

FEW = 7  # operations, of which every order is tried
WORTH = 60  # minutes, of lateness or of finishes, for which the order last shown is given up
BUILDS = 0.35  # the share of the schedules for the order of whole builds, if there are LEAST times as many as builds
LEAST = 4
PROMISING = 0.05  # the share for the orders of builds that promise most
LEADS = (1.0, 0.3, 0.1, 0.05, 0.025)  # of a build over the next: at 1 all of it goes first
NEAR = 15  # places in the order that an operation moves
VAIN = 4  # moves without gain for each operation, after which the order is shaken up
STALE = 50  # orders in a row that were tried before, of which one is laid out again: the search has to end


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
    first = search.lay(tuple(range(len(graph.nodes))) if shown is None else shown)
    numbers = free(graph)
    if len(numbers) <= FEW:
        search.try_all(numbers)
    else:
        if schedules > 1:
            search.order_builds()
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
        self.tried: dict[tuple[int, ...], Cost] = {}
        self.stale = 0  # orders since the last new one
        self.urgency = latest_finishes(graph, hours) if schedules > 1 else []

    def best(self) -> Found:
        """What was found."""
        assert self.found is not None
        return self.found

    def lay(self, order: Sequence[int]) -> Found:
        """Lay out one order, and keep it where it is better than all before."""
        return self._lay(tuple(self.graph.order(order)))

    def _lay(self, kept: tuple[int, ...]) -> Found:
        self.left -= 1
        laid = lay_out(self.graph, self.hours, kept)
        found = Found(cost_of(self.graph, self.hours, laid), kept, laid)
        if self.found is None or found.cost < self.found.cost:
            self.found = found
        self.tried[kept] = found.cost
        self.pause()
        return found

    def try_all(self, numbers: Sequence[int]) -> None:
        """Try every order of a few operations; the rest goes first, in the order of the document."""
        chosen = set(numbers)
        others = [node.number for node in self.graph.nodes if node.number not in chosen]
        for order in every_order(self.graph, numbers):
            if self.left <= 0:
                return
            self.lay([*others, *order])

    def try_ranks(self, ranks: Sequence[float]) -> Cost:
        """Lay out by rank, the lowest first; an order that was tried before costs nothing."""
        kept = tuple(self.graph.order(self._order(ranks)))
        known = self.tried.get(kept)
        self.stale += 1
        if known is not None and self.stale < STALE:
            return known
        self.stale = 0
        return self._lay(kept).cost

    @staticmethod
    def _order(ranks: Sequence[float]) -> list[int]:
        return sorted(range(len(ranks)), key=ranks.__getitem__)

    def order_builds(self) -> None:
        """Try builds by urgency, then one before the other in the orders that promise most."""
        self.try_ranks(self.urgency)
        builds = len(self.graph.builds)
        if builds == 1 or self.left < LEAST * builds:
            return
        alone = [self._alone(number) for number in range(builds)]
        openings, now = self.hours.of_maker(0), self.graph.document.now
        orders = promising(alone, openings, now, self.chance)[: max(1, int(self.whole * PROMISING))]
        tried = [(self.weigh(self.try_ranks(self._one_by_one(order, 1.0))), order) for order in orders]
        best, order = min(tried)
        lead = 1.0
        while self.left > self.whole * (1 - BUILDS):
            changed, other = self._moved(order), lead
            if self.chance.share() < 0.25:
                other = LEADS[self.chance.below(len(LEADS))]
            weight = self.weigh(self.try_ranks(self._one_by_one(changed, other)))
            if weight <= best:
                best, order, lead = weight, changed, other

    def _alone(self, number: int) -> Whole:
        """A build as it would be if it went first."""
        others = [other for other in range(len(self.graph.builds)) if other != number]
        laid = self.lay(self._order(self._one_by_one((number, *others), 1.0))).laid
        finish, build = finish_of(self.graph, number, laid), self.graph.builds[number]
        work = sum(node.left for node in self.graph.of_build(number) if node.may_move)
        now = self.graph.document.now
        return Whole(work, now if finish is None else finish, due_of(build, self.hours), build.weight)

    def _one_by_one(self, order: Sequence[int], lead: float) -> list[float]:
        """Ranks that put builds one before the other, by so much of all the time there is."""
        place = {number: place for place, number in enumerate(order)}
        step = 10 * lead * (max(self.urgency) - min(self.urgency) + 1)
        return [rank + place[n.build] * step for rank, n in zip(self.urgency, self.graph.nodes, strict=True)]

    def _moved(self, order: tuple[int, ...]) -> tuple[int, ...]:
        """An order of builds in which one goes up to three places earlier or later."""
        changed = list(order)
        number = changed.pop(self.chance.below(len(changed)))
        place = order.index(number) + self.chance.below(7) - 3
        changed.insert(min(max(place, 0), len(changed)), number)
        return tuple(changed)

    def move(self, numbers: Sequence[int]) -> None:
        """Move single operations and whole builds in the best order so far, while the plan gets no worse.

        Where nothing better turns up for long, it goes on from an order that was shaken up.
        """
        ranks, now, vain = *self._best_ranks(), 0
        while self.left > 0:
            changed = self._changed(ranks, numbers)
            weight = self.weigh(self.try_ranks(changed))
            vain = 0 if weight < now else vain + 1
            if weight <= now:
                ranks, now = changed, weight
            if vain > VAIN * len(numbers):
                ranks, vain = self._shaken(numbers), 0
                now = self.weigh(self.try_ranks(ranks))

    def _best_ranks(self) -> tuple[list[float], tuple[float, ...]]:
        found = self.best()
        ranks = [0.0] * len(self.graph.nodes)
        for place, number in enumerate(found.order):
            ranks[number] = place
        return ranks, self.weigh(found.cost)

    def _shaken(self, numbers: Sequence[int]) -> list[float]:
        """The best order so far with some of its operations put anywhere; every other time, all of them."""
        ranks, _ = self._best_ranks()
        everywhere = self.chance.share() < 0.5
        for number in numbers if everywhere else self._some(numbers):
            ranks[number] = self.chance.between(0, len(ranks))
        return ranks

    def _some(self, numbers: Sequence[int]) -> list[int]:
        return [numbers[self.chance.below(len(numbers))] for _ in range(2 + len(numbers) // 4)]

    def _changed(self, ranks: list[float], numbers: Sequence[int]) -> list[float]:
        changed = list(ranks)
        if len(self.graph.builds) > 1 and self.chance.share() < 0.2:
            by = self.chance.between(-1, 1) * self.chance.share() * len(ranks)
            for node in self.graph.of_build(self.chance.below(len(self.graph.builds))):
                changed[node.number] += by
            return changed
        order = sorted(numbers, key=ranks.__getitem__)
        place = self.chance.below(len(order))
        other = min(max(place + self.chance.below(2 * NEAR + 1) - NEAR, 0), len(order) - 1)
        changed[order[place]] = ranks[order[other]] + (1e-3 if other > place else -1e-3)
        return changed

    @staticmethod
    def weigh(cost: Cost) -> tuple[float, ...]:
        """What counts while it is searched: all but the starts."""
        return cost.blocked, cost.missed, cost.late, cost.finishes
