"""Rule 8: what must follow soon, and work inside a wait."""

from collections.abc import Iterator

from tests.planning.checking.facts import Facts
from tests.planning.checking.times import Json
from tests.planning.checking.works import Link, Piece, State, Work


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        yield from (work.say(said) for said in tended(facts, work))
        if work.is_to_come and work.is_laid:
            for link in facts.links(work):
                if is_late(facts, link) and not {"window-missed"} & (work.flags | link.to.flags):
                    yield work.say(f"starts more than {link.within} min after {link}, and is not flagged")


def is_late(facts: Facts, link: Link) -> bool:
    """Whether an operation starts too long after what it must follow."""
    moment = facts.moment(link)
    start = link.of.spans[0][0] if link.of.is_laid else None
    if link.within is None or moment is None or start is None:
        return False
    return start > moment + link.within


def follows_late(facts: Facts, work: Work) -> bool:
    """Whether an operation may be flagged window-missed for something other than recoat windows."""
    links = [*facts.links(work), *facts.followers[id(work)]]
    return any(is_late(facts, link) for link in links) or any("window-missed" in one.flags for one in work.tending)


def tended(facts: Facts, work: Work) -> Iterator[str]:
    """All tending of a wait is planned, in its time or flagged; of work done, while its time is not over."""
    planned = {piece.name: piece for piece in work.tending}
    if work.state is State.ABANDONED or work.finish is None:
        if planned:
            yield f"has tending {sorted(planned)}, but no wait"
        return
    for tend in work.product.get("tend", []):
        first = work.finish + tend["at_minutes"]
        last = first + tend.get("within_minutes", 0)
        piece = planned.get(tend["key"])
        is_over = work.state is State.DONE and last < facts.now
        if (piece is None) != is_over:
            yield f"has its tending {tend['key']} {'planned after its time' if is_over else 'not planned'}"
        elif piece is not None and piece.is_laid:
            yield from of_tending(piece, tend, work, first, last)


def of_tending(piece: Piece, tend: Json, work: Work, first: int, last: int) -> Iterator[str]:
    start = piece.spans[0][0]
    if piece.minutes != tend["minutes"] or len(piece.people) != 1:
        yield f"has {piece.key} of {piece.minutes} min by {piece.people}, not {tend['minutes']} by one"
    if start < first:
        yield f"has {piece.key} {first - start} min too early"
    said = "window-missed" in piece.flags | work.flags
    if start > last and not said:
        yield f"has {piece.key} {start - last} min too late, and it is not flagged"
    if start <= last and "window-missed" in piece.flags:
        yield f"has {piece.key} flagged window-missed, but in its time"
