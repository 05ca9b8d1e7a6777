"""The search: a population of plans, each child of two of them, until the passes are used up.

A child keeps the most densely packed stretch of one plan and follows one other before it and one after it. It is laid
from the side that its parent does not lie at, so that the one pass that reads the list pushes it together as well, and
where that turned out well it is pushed back. What has been tried before is not laid again and costs nothing. Where
nothing better comes for long, a new population grows around the best. With few passes for its size a problem is
searched in more haste.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.planning.chance import Chance
from webapp.planning.search.budget import Budget
from webapp.planning.search.orders import densest, mixed, ranked, sampled, shaken, swapped
from webapp.planning.search.problem import FORWARD, Found, Problem

PASSES_OF_ONE = 20  # a population has a member for so many passes,
FEWEST, MOST = 6, 50  # within these
STRETCH = 0.15, 0.5  # of a list that a child keeps, or that is shaken
TRIES = 8  # stretches that are looked at for the densest
SWAPS = 0.07  # of the places of a child, at which neighbours change places
SHAKEN, SHAKEN_OF = 0.15, 6  # the share of children that are one plan shaken, at most; of long lists so many a list
FLAT, STUCK = 2, 20  # passes a member without gain, after which all but the best make room: all cost the same, or not
SHORT = 12  # passes an item; with fewer there is haste
IDLE = 200  # children one after the other that had all been tried: the search has seen what there is


@dataclass(frozen=True, slots=True)
class Pace:
    """How much the better is preferred: of how many drawn the best is a parent, and the worst is replaced; in seeds."""

    parents: int
    replaced: int
    seeds: float


CALM, HASTE = Pace(2, 3, 1.0), Pace(3, 5, 1.5)


def evolve(problem: Problem, budget: Budget, seed: int = 1, given: Sequence[int] | None = None) -> Found:
    """Return the best plan found within a budget.

    Takes:   the problem, which spends the budget; the budget; a seed; a list to begin with, from the front.
    Returns: the plan that costs least of all that were laid out, that of the given list among them, the first of
             equals; the same for the same seed. With a budget of 0 passes it makes one all the same.
    Raises:  ValueError when even that one is not to be had.
    Source:  activity lists: Hartmann (1998); plans of two sides: Debels, Vanhoucke (2005); dense stretches: Debels,
             Vanhoucke (2007); laid together by us, and nothing tried twice.

    >>> from webapp.planning.search.place import Placing
    >>> from webapp.planning.search.project import Project
    >>> budget = Budget(40)
    >>> room = Project((4, 3, 3, 2), ((1,), (1,), (1,), (1,)), (2,), ())
    >>> evolve(Placing(room, budget), budget, given=[3, 1, 2, 0]).cost
    (6,)
    """
    return _Search(problem, budget, Chance(seed)).run(given)


class _Search:
    def __init__(self, problem: Problem, budget: Budget, chance: Chance) -> None:
        self.problem, self.budget, self.chance = problem, budget, chance
        self.size = min(max(budget.left // PASSES_OF_ONE, FEWEST), MOST)
        self.pace = HASTE if budget.left < SHORT * len(problem.work) else CALM
        self.shaken = min(SHAKEN, SHAKEN_OF / max(len(problem.work), 1))
        self.members: list[Found] = []
        self.tried: set[tuple[int, tuple[int, ...]]] = set()
        self.known: set[tuple[int, tuple[int, ...]]] = set()
        self.best: Found | None = None
        self.idle = self.gained_at = 0

    def run(self, given: Sequence[int] | None) -> Found:
        if given is not None:
            self.add_seed(list(given), FORWARD)
        for side in range(self.problem.sides):
            self.add_seed(ranked(self.problem.before[side], self.problem.urgency[side]), side)
        while self.goes_on():
            if self.is_stuck():
                self.begin_again()
            if len(self.members) < self.size:
                side = len(self.members) % self.problem.sides
                before, urgency = self.problem.before[side], self.problem.urgency[side]
                self.add_seed(sampled(before, urgency, self.pace.seeds, self.chance), side)
            else:
                self.add_child()
        assert self.best is not None
        return self.best

    def goes_on(self) -> bool:
        """Whether there is anything left to spend, and anything left to find."""
        return self.best is None or (self.idle < IDLE and self.budget.left > 0 and self.best.cost > self.problem.least)

    def is_stuck(self) -> bool:
        """Whether nothing better has come for long: sooner where all members cost the same."""
        since = (self.budget.spent - self.gained_at) // self.size
        return since >= STUCK or (since >= FLAT and len({one.cost for one in self.members}) == 1)

    def begin_again(self) -> None:
        """Keep the best member and make room for new ones."""
        self.members = [min(self.members, key=lambda one: one.cost)]
        self.known = {(one.side, one.starts) for one in self.members}
        self.gained_at = self.budget.spent

    def see(self, found: Found) -> Found:
        """Keep a plan as the best where it is."""
        if self.best is None or found.cost < self.best.cost:
            self.best, self.gained_at = found, self.budget.spent
        return found

    def place(self, order: list[int], side: int) -> Found | None:
        """Lay a list out, or say that it has been tried."""
        key = (side, tuple(order))
        if key in self.tried:
            self.idle += 1
            return None
        self.tried.add(key)
        self.idle = 0
        return self.see(self.problem.place(order, side))

    def add_seed(self, order: list[int], side: int) -> None:
        """Lay a first list out, push it together there and back, and let it in."""
        found = self.place(order, side) if self.goes_on() else None
        if found is not None:
            for _ in range(self.problem.sides):
                found = self.see(self.problem.shift(found)) if self.goes_on() else found
            self.let_in(found, len(self.members) < self.size)

    def add_child(self) -> None:
        """Make a child of members, push it back where it turned out well, and let it in for a worse one."""
        father = self.chosen()
        side = (father.side + 1) % self.problem.sides
        child = self.place(self.made(father, side), side)
        if child is None:
            return
        if self.budget.left and child.cost <= max(one.cost for one in self.members):
            child = self.see(self.problem.shift(child))
        self.let_in(child, is_room=False)

    def made(self, father: Found, side: int) -> list[int]:
        """The list of a child."""
        order, before = father.lists[side], self.problem.before[side]
        stretch = min(max(round(self.chance.between(*STRETCH) * len(order)), 2), len(order))
        if self.chance.share() < self.shaken:
            begin = self.chance.below(len(order) - stretch + 1)
            child = shaken(order, before, begin, begin + stretch, self.chance)
        else:
            times, work = father.times(side), self.problem.work
            found = [work[item] for item in order], [times[item] for item in order]
            begin = densest(*found, stretch, TRIES, self.chance)
            child = mixed(order, self.chosen().lists[side], self.chosen().lists[side], begin, begin + stretch)
        return swapped(child, before, SWAPS, self.chance)

    def let_in(self, found: Found, is_room: bool) -> None:
        """Take a plan in where none is like it: where there is room, or for one drawn that is no better."""
        key = (found.side, found.starts)
        if key in self.known:
            return
        if is_room:
            self.members.append(found)
            self.known.add(key)
            return
        places = [self.chance.below(len(self.members)) for _ in range(self.pace.replaced)]
        place = max(places, key=lambda place: self.members[place].cost)
        worse = self.members[place]
        if found.cost <= worse.cost:
            self.known.discard((worse.side, worse.starts))
            self.known.add(key)
            self.members[place] = found

    def chosen(self) -> Found:
        """The best of the members drawn."""
        drawn = (self.members[self.chance.below(len(self.members))] for _ in range(self.pace.parents))
        return min(drawn, key=lambda one: one.cost)
