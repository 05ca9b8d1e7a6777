"""Sets of people by the hours they keep: which mixes there are, and who of one is taken."""

from collections.abc import Sequence
from itertools import combinations, islice

MOST_MIXES = 500  # of different hours that are looked at; nine makers with nine weeks of their own have fewer

Mix = tuple[tuple[int, ...], tuple[int, ...]]  # people, and the groups of hours they keep among them


def first_of_each(
    free: Sequence[int], groups: Sequence[int], members: Sequence[int], people: int
) -> tuple[int, ...] | None:
    """Return the first so many people of a mix who are free, at least one of each group of hours in it.

    Takes:   who is free, in the order of the list; the group of hours of each person; all of the mix; how many.
    Returns: people in order, or None where there are not enough. Without one of each group the mix would keep them to
             hours that are not theirs.
    Raises:  nothing.
    Source:  the shop document, rule 1.

    >>> first_of_each([0, 1, 2], [-1, -1, 2], [0, 1, 2], 2)
    (0, 2)
    """
    missing = {groups[person] for person in members}
    if len(free) < people or not missing <= {groups[person] for person in free}:
        return None
    chosen: list[int] = []
    for person in free:
        left = missing - {groups[person]}
        if len(chosen) < people and len(left) < people - len(chosen):
            chosen.append(person)
            missing = left
    return tuple(chosen)


def mixes(groups: Sequence[int], people: int) -> list[Mix]:
    """Return each mix of hours that so many people can have among them.

    Takes:   the group of hours of each person; how many people are wanted.
    Returns: for each combination of groups that enough people keep, these people and the groups; fewer groups first,
             MOST_MIXES at most.
    Raises:  nothing.
    Source:  arithmetic.

    >>> mixes([-1, -1, 2], 2)
    [((0, 1), (-1,)), ((0, 1, 2), (-1, 2))]
    """
    kinds = list(dict.fromkeys(groups))
    sizes = range(1, min(people, len(kinds)) + 1)
    sets = (frozenset(chosen) for size in sizes for chosen in combinations(kinds, size))
    found = ((tuple(p for p, group in enumerate(groups) if group in chosen), chosen) for chosen in sets)
    enough = ((people_of, chosen) for people_of, chosen in found if len(people_of) >= people)
    return [(people_of, tuple(k for k in kinds if k in chosen)) for people_of, chosen in islice(enough, MOST_MIXES)]
