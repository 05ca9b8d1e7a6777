"""Work in hand: it goes on as soon as its people are free, before anything else."""

from webapp.planning.graph import Node
from webapp.planning.roster import Roster, Slot, Wanted


def go_on(node: Node, now: int, roster: Roster) -> tuple[Slot | None, int | None]:
    """Return where the rest of running work lies, and how many people it is given where that is fewer than asked for.

    Takes:   a running node, those started before it being laid; now; the roster.
    Returns: the slot of what is left. Work that may pause does so at closing; work of one piece does not: it goes on
             where nobody is in any more.
    Source:  the shop document, rule 10.
    """
    asked = node.operation.makers
    if node.split:
        people = roster.can_meet(now, asked)
        slot = roster.earliest(now, Wanted(node.left, True, people)) if people else None
        return slot, people if people < asked else None
    people = min(asked, roster.people)
    return _unpaused(node.left, people, now, roster), people if people < asked else None


def _unpaused(minutes: int, people: int, now: int, roster: Roster) -> Slot:
    """The first moment at which so many are free, of those the ones who are in then, in the order of the list."""
    free = {person: max(now, roster.last_end(person)) for person in range(roster.people)}
    start = sorted(free.values())[people - 1]
    spans = ((start, start + minutes),)
    able = sorted(
        (not roster.hours.of_maker(person).is_open(start), person) for person, since in free.items() if since <= start
    )
    chosen = tuple(sorted(person for _, person in able[:people]))
    return Slot(spans, chosen, over_closing=roster.runs_over(spans, chosen))
