"""Rule 6: dusty work and wet coats in one room."""

from collections.abc import Iterator

from tests.planning.checking.facts import Facts
from tests.planning.checking.things import start_of, wet_until
from tests.planning.checking.times import Span, overlaps
from tests.planning.checking.works import Printed, State, Work


def faults(facts: Facts) -> Iterator[str]:
    rooms = {work.room for work in facts.works if work.room is not None}
    for room in sorted(rooms):
        works = [work for work in facts.works if work.room == room]
        settle = facts.rooms[room].get("settle_minutes", 0)
        stretches = [one for work in works for one in dusty(work)]
        for coat in works:
            start, until = start_of(coat), wet_until(coat)
            if start is not None and until is not None:
                yield from spoilt(coat, (start, until), stretches, settle)


def dusty(work: Work) -> Iterator[tuple[Span, Printed, Work]]:
    """The stretches of dusty work of an operation, inserted work too."""
    if work.is_dusty:
        if work.state in (State.DONE, State.ABANDONED) and None not in (work.begun, work.finish):
            yield (work.begun or 0, work.finish or 0), work, work
        yield from ((span, work, work) for span in work.spans)
    yield from ((piece.spans[0], piece, work) for piece in work.before if piece.is_dusty and piece.is_laid)


def spoilt(coat: Work, wet: Span, stretches: list[tuple[Span, Printed, Work]], settle: int) -> Iterator[str]:
    """Dust on a wet coat, or before it has settled; only where the planner laid one of the two."""
    start, until = wet
    for (begin, end), printed, work in stretches:
        if printed is coat or not (coat.is_free or work.is_free):
            continue
        if spoils((begin, end), wet, 0):
            yield printed.say(f"raises dust on {coat.path}, which is wet for {until - max(begin, start)} min more")
        elif coat.is_free and spoils((begin, end), wet, settle):
            yield coat.say(f"starts {start - end} min after the dust of {printed.path}, which hangs for {settle}")


def spoils(dust: Span, wet: Span, settle: int) -> bool:
    """Whether dusty work and a wet coat meet, or the coat begins before the dust has settled."""
    return overlaps(dust, wet) or dust[0] < wet[0] < dust[1] + settle
