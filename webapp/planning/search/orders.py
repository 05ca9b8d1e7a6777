"""Lists made of chance and of other lists. In none of them does an item come before what it waits for."""

from collections.abc import Sequence
from heapq import heapify, heappop, heappush
from itertools import accumulate

from webapp.planning.chance import Chance
from webapp.planning.search.project import grouped

Before = Sequence[Sequence[int]]  # for each item, what has to come earlier


def ranked(before: Before, ranks: Sequence[float]) -> list[int]:
    """Return the list by rank, the lowest first, with what each item waits for before it.

    Takes:   for each item what comes before it; a rank for each.
    Returns: all items.
    Raises:  nothing; items that wait for themselves are left out.
    Source:  Kahn (1962).

    >>> ranked([[], [0], []], [5, 1, 3])
    [2, 0, 1]
    """
    waiting = [len(row) for row in before]
    after = _after(before)
    ready = [(ranks[item], item) for item, count in enumerate(waiting) if not count]
    heapify(ready)
    order = []
    while ready:
        item = heappop(ready)[1]
        order.append(item)
        for other in after[item]:
            waiting[other] -= 1
            if not waiting[other]:
                heappush(ready, (ranks[other], other))
    return order


def sampled(before: Before, urgency: Sequence[float], greed: float, chance: Chance) -> list[int]:
    """Return a list drawn by urgency: of what could come next, the more urgent is the likelier.

    Takes:   for each item what comes before it; for each how urgent, the lower the more; how much likelier that
             makes it, as an exponent; chance.
    Returns: all items.
    Raises:  nothing; items that wait for themselves are left out.
    Source:  regret-based biased random sampling, Drexl (1991), Kolisch (1996).

    >>> sampled([[], [0], []], [5, 1, 3], 1, Chance(3))
    [0, 1, 2]
    """
    waiting = [len(row) for row in before]
    after = _after(before)
    ready = [item for item, count in enumerate(waiting) if not count]
    unit = (max(urgency, default=0) - min(urgency, default=0)) / max(len(urgency), 1) or 1
    order = []
    while ready:
        latest = max(urgency[item] for item in ready) + unit
        regrets = list(accumulate((latest - urgency[item]) ** greed for item in ready))
        mark = chance.share() * regrets[-1]
        place = next(number for number, regret in enumerate(regrets) if mark < regret or regret == regrets[-1])
        item = ready.pop(place)
        order.append(item)
        for other in after[item]:
            waiting[other] -= 1
            if not waiting[other]:
                ready.append(other)
    return order


def mixed(father: Sequence[int], first: Sequence[int], second: Sequence[int], begin: int, end: int) -> list[int]:
    """Return a list that keeps a stretch of one list; what comes before and what after it follows others.

    Takes:   the list; the one that is followed before the stretch; the one after it; the stretch, from a place on, up
             to another.
    Returns: a list of the same items.
    Raises:  nothing.
    Source:  the peak crossover of Debels, Vanhoucke (2007), on lists, from memory; two mothers: our own.

    >>> mixed([0, 1, 2, 3, 4, 5], [1, 0, 3, 2, 5, 4], [0, 1, 2, 4, 5, 3], 2, 4)
    [1, 0, 2, 3, 4, 5]
    """
    early, late = set(father[:begin]), set(father[end:])
    return [
        *(item for item in first if item in early),
        *father[begin:end],
        *(item for item in second if item in late),
    ]


def densest(work: Sequence[float], times: Sequence[float], sizes: int, tries: int, chance: Chance) -> int:
    """Return where the most densely packed of some stretches begins, drawn by chance.

    Takes:   for each place of a list the work done there and when it begins; how many places a stretch has; how many
             are drawn; chance.
    Returns: a place.
    Raises:  nothing.
    Source:  Debels, Vanhoucke (2007) keep the time with the highest use of resources; by places of a list: our own.

    >>> densest([1, 1, 1, 9, 9, 1], [0, 1, 2, 3, 4, 5], 2, 20, Chance(1))
    3
    """
    done = [0.0, *accumulate(work)]
    unit = (times[-1] - times[0]) / len(times) or 1
    found, most = 0, -1.0
    for _ in range(tries):
        begin = chance.below(len(times) - sizes + 1)
        dense = (done[begin + sizes] - done[begin]) / (times[begin + sizes - 1] - times[begin] + unit)
        if dense > most:
            found, most = begin, dense
    return found


def shaken(order: Sequence[int], before: Before, begin: int, end: int, chance: Chance) -> list[int]:
    """Return a list in which the items of one stretch are moved by chance, by up to half its length.

    Takes:   the list; for each item what comes before it; the stretch; chance.
    Returns: a list of the same items.
    Raises:  nothing.
    Source:  our own.

    >>> shaken([0, 1, 2, 3, 4], [[], [0], [], [], []], 1, 4, Chance(1))
    [0, 1, 2, 4, 3]
    """
    ranks = [0.0] * len(order)
    for place, item in enumerate(order):
        inside = begin <= place < end
        ranks[item] = place + (chance.between(-0.5, 0.5) * (end - begin) if inside else 0)
    return ranked(before, ranks)


def swapped(order: list[int], before: Before, share: float, chance: Chance) -> list[int]:
    """Return a list in which some neighbours have changed places, those apart that wait for each other.

    Takes:   the list; for each item what comes before it; the share of places at which it is tried; chance.
    Returns: a list of the same items.
    Raises:  nothing.
    Source:  the mutation of Hartmann (1998).

    >>> swapped([0, 1, 2, 3], [[], [0], [], []], 0.5, Chance(2))
    [0, 1, 3, 2]
    """
    changed = list(order)
    farthest = max(round(2 / share), 1)
    place = chance.below(farthest)
    while place + 1 < len(changed):
        one, other = changed[place], changed[place + 1]
        if one not in before[other]:
            changed[place], changed[place + 1] = other, one
        place += 1 + chance.below(farthest)
    return changed


def _after(before: Before) -> list[list[int]]:
    return grouped(len(before), ((other, item) for item, row in enumerate(before) for other in row))
