"""Work inside a wait: laying an operation where its tending can be done in time."""

from dataclasses import replace

from webapp.planning.graph import Node
from webapp.planning.instants import DAY
from webapp.planning.laid import Piece
from webapp.planning.needs import Lead
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
    if node.product is None or not node.product.tend:
        roster.give(first)
        return first, ()
    while slot is not None and slot.start <= first.start + SEARCH:
        mark = roster.mark()
        pieces, late = _try(node, slot, roster)
        if not late:
            return slot, pieces
        roster.back_to(mark)
        slot = roster.earliest(later_start(slot, late, wanted.split, roster), wanted, bar)
    return first, _try(node, first, roster)[0]


def _try(node: Node, slot: Slot, roster: Roster) -> tuple[tuple[Piece, ...], int]:
    roster.give(slot)
    return give_tending(node, tending_after(node, slot.end), slot.end, roster)


def later_start(slot: Slot, minutes: int, split: bool, roster: Roster) -> int:
    """Return the first start with which work ends so many minutes later than in a slot.

    Takes: the slot; the minutes; whether it may pause at closing; the roster. Returns: an instant. Raises: nothing.
    Source: rule 1: work that pauses at closings moves by open minutes, its end by as many as its start.
    """
    if not split:
        return slot.start + minutes
    openings = roster.hours.together(slot.people)
    run = openings.run(slot.start, max(openings.minutes(slot.end, slot.end + minutes), 1) + 1)
    return slot.start + minutes if run is None else run[-1][1] - 1


def cut_lead(slot: Slot, before: Lead) -> tuple[tuple[Piece, ...], Slot]:
    """Cut inserted work off the start of a slot: its pieces, back to back, and the slot that is left."""
    if not before.pieces:
        return (), slot
    pieces, start = [], slot.start
    for (key, minutes), dusts in zip(before.pieces, before.dusty, strict=True):
        pieces.append(Piece(key, Slot(((start, start + minutes),), slot.people), is_dusty=dusts))
        start += minutes
    return tuple(pieces), replace(slot, spans=((start + before.settles, slot.end),))
