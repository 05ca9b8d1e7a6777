"""Work inside a wait: laying an operation where its tending can be done in time."""

from dataclasses import replace

from webapp.planning.graph import Node
from webapp.planning.instants import DAY
from webapp.planning.laid import Piece
from webapp.planning.roster import NO_BAR, Bar, Roster, Slot, Wanted
from webapp.trade.waits.cure import Tending, tendings

SEARCH = 14 * DAY  # as far as work is moved for its tending


def tending_after(node: Node, end: int) -> tuple[Tending, ...]:
    """When a node's wait is to be tended, its hands-on work ending at an instant."""
    return tendings(end, node.product.tend) if node.product else ()


def give_tending(
    node: Node, wanted: tuple[Tending, ...], earliest: int, roster: Roster
) -> tuple[tuple[Piece, ...], int]:
    """Give tending to people, each as early as somebody is free, and say how much later than wanted the latest comes.

    Returns the pieces, given away in the roster already, and the minutes that the hands-on work would have to end later
    for the first that comes too late to be in time; 0 when all are.
    """
    pieces: list[Piece] = []
    late = 0
    for tending in wanted:
        slot = roster.earliest(max(tending.at, earliest), Wanted(tending.minutes, split=False))
        if slot is not None:
            roster.give(slot)
            pieces.append(Piece(f"{node.key}.{tending.key}", slot, tending.at, tending.by))
            late = late or max(slot.start - tending.by, 0)
    return tuple(pieces), late


def lay_tended(
    node: Node, ready: int, wanted: Wanted, roster: Roster, bar: Bar = NO_BAR
) -> tuple[Slot, tuple[Piece, ...]] | None:
    """Return the earliest slot for work and the tending of its wait, given away in the roster already.

    Takes:   the node; the instant from which on it may start; the work; what else forbids it.
    Returns: the slot and the tending. The work is moved to where all its tending can be done; where there is no such
             slot in 14 days, it is the earliest, and tending that comes too late says so. None when it can never be.
    """
    first = slot = roster.earliest(ready, wanted, bar)
    if first is None or slot is None:
        return None
    while slot is not None and slot.start <= first.start + SEARCH:
        mark = roster.mark() if node.product and node.product.tend else None
        pieces, late = _try(node, slot, roster)
        if not late or mark is None:
            return slot, pieces
        roster.back_to(mark)
        slot = roster.earliest(_later(slot, late, wanted, roster), wanted, bar)
    return first, _try(node, first, roster)[0]


def _try(node: Node, slot: Slot, roster: Roster) -> tuple[tuple[Piece, ...], int]:
    roster.give(slot)
    return give_tending(node, tending_after(node, slot.end), slot.end, roster)


def _later(slot: Slot, late: int, wanted: Wanted, roster: Roster) -> int:
    """The first start with which the work ends so many minutes later than in a slot."""
    if not wanted.split:
        return slot.start + late
    # Work that pauses at closings moves by open minutes: its end by as many as its start.
    openings = roster.hours.together(slot.people)
    moved = max(openings.minutes(slot.end, slot.end + late), 1)
    run = openings.run(slot.start, moved + 1)
    return slot.start + late if run is None else run[-1][1] - 1


def cut_lead(slot: Slot, before: list[tuple[str, int]]) -> tuple[tuple[Piece, ...], Slot]:
    """Cut inserted work off the start of a slot: its pieces, back to back, and the slot that is left."""
    pieces, start = [], slot.start
    for key, minutes in before:
        pieces.append(Piece(key, replace(slot, spans=((start, start + minutes),), over_closing=False)))
        start += minutes
    return tuple(pieces), replace(slot, spans=((start, slot.end),)) if before else slot
