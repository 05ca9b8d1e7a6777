"""Pinned work: fixed by the maker, against hours and plans, but not against its build's order."""

from datetime import date

from webapp.planning.graph import Node
from webapp.planning.hours import Hours
from webapp.planning.instants import moment
from webapp.planning.network import Pin
from webapp.planning.roster import Roster, Slot, Wanted


def pin_starts(pin: Pin, order: int, hours: Hours) -> int | None:
    """Return from when on pinned work may start, or None where its build's order lets it start only after its pin.

    Takes:   the pin; the instant from which on the order allows it, not before now; the hours.
    Source:  the shop document, rule 11.
    """
    if pin.on is not None:
        return max(order, hours.midnight(pin.on)) if order < hours.midnight(_next(pin.on)) else None
    return pin.at if pin.at is not None and order <= pin.at else None


def pinned_slot(node: Node, pin: Pin, start: int, roster: Roster) -> tuple[Slot | None, int | None]:
    """Return the slot of pinned work, and how many people it is given where that is fewer than asked for.

    Takes:   the node; its pin; from when on it may start; the roster.
    Returns: a slot in the hours of its people where the pin allows one; else one that begins at the pin although nobody
             is in then, with whoever is not at other work. None where all are.
    Source:  the shop document, rule 11.
    """
    asked = node.operation.makers
    people = roster.can_meet(start, asked)
    slot = roster.earliest(start, Wanted(node.left, node.split, people)) if people else None
    if slot is not None and _keeps(slot, pin, start, roster.hours):
        return slot, people if people < asked else None
    if pin.on is not None:
        start = max(start, roster.hours.usual_opening(pin.on))
    spans = ((start, start + node.left),)
    free = [person for person in range(roster.people) if not roster.is_given(person, spans)]
    chosen = tuple(free[:asked])
    if not chosen:
        return None, None
    slot = Slot(spans, chosen, over_closing=roster.runs_over(spans, chosen))
    return slot, len(chosen) if len(chosen) < asked else None


def _keeps(slot: Slot, pin: Pin, start: int, hours: Hours) -> bool:
    if pin.on is None:
        return slot.start == start
    return moment(slot.start, hours.zone).date() == pin.on


def _next(day: date) -> date:
    return date.fromordinal(day.toordinal() + 1)
