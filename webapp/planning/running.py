"""Work in hand, which goes on as soon as its people are free, before anything else; and work that is done."""

from dataclasses import replace

from webapp.planning.cold import chilled, judged
from webapp.planning.graph import Graph, Node
from webapp.planning.laid import Laid, blocked, done, in_slot
from webapp.planning.roster import Roster, Slot, Wanted
from webapp.planning.tending import give_tending, tending_after


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


def lay_running(node: Node, graph: Graph, roster: Roster) -> Laid:
    """Return work in hand laid out, what is left of it given to its people.

    Takes:   a running node, those started before it being laid; the graph; the roster.
    Returns: its real start, and the slot of what is left.
    Raises:  nothing.
    Source:  the shop document, rule 10.
    """
    slot, short = go_on(node, graph.document.now, roster)
    if slot is None:
        return replace(blocked(node, node.number), start=node.operation.started)
    roster.give(slot)
    tending, _ = give_tending(node, tending_after(node, slot.end), slot.end, roster)
    start = node.operation.started or slot.start
    laid = replace(in_slot(node, slot, graph, tending=tending), start=start, short_of=short)
    return _judged(node, laid, start, slot.end, graph)


def lay_done(node: Node, graph: Graph, roster: Roster) -> Laid:
    """Return done work laid out, tending whose time is not over given to people.

    Takes: a node that is done; the graph; the roster. Returns: its real times. Raises: nothing. Source: rules 8 and 10.
    """
    operation, now = node.operation, graph.document.now
    end = operation.finished or 0
    open_ = tuple(tending for tending in tending_after(node, end) if tending.by >= now)
    tending, _ = give_tending(node, open_, now, roster)
    laid = done(node, end, graph, tending)
    return _judged(node, laid, end if operation.started is None else operation.started, end, graph)


def _judged(node: Node, laid: Laid, start: int, end: int, graph: Graph) -> Laid:
    """Work that has begun, with the cold it has met or is to meet."""
    return chilled(node, laid, judged(node, start, end, graph), graph.document.now)


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
