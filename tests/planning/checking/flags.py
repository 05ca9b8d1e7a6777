"""Which flags work may have at all, as it stands; whether they are true the other groups ask."""

from collections.abc import Iterator

from tests.planning.checking.facts import Facts
from tests.planning.checking.follow import follows_late
from tests.planning.checking.works import Piece, State, Work

AIR = {"suspect-joint", "cold-ahead", "too-humid", "dew-point", "open-time", "too-early"}
PLANNED = {"longer-than-shop-hours", "maker-short", "equipment-short"}


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        wrong = sorted(work.flags - allowed(facts, work))
        if wrong:
            yield work.say(f"is {work.state} and flagged {wrong}, which cannot be")
        for piece in work.pieces:
            wrong = sorted(piece.flags - of_piece(facts, piece, work))
            if wrong:
                yield piece.say(f"is inserted work and flagged {wrong}, which cannot be")


def allowed(facts: Facts, work: Work) -> set[str]:
    if work.is_to_come:
        own = (AIR - {"suspect-joint", "cold-ahead"}) | PLANNED | {"too-cold", "window-missed"}
        return own if work.is_laid else {"blocked", "too-early"}
    late = {"window-missed"} if follows_late(facts, work) else set()
    if work.state is State.RUNNING:
        return AIR | PLANNED | late
    return {"too-early"} if work.state is State.ABANDONED else AIR | late


def of_piece(facts: Facts, piece: Piece, work: Work) -> set[str]:
    outside = not facts.hours.of(piece.people).covers(*piece.spans[0]) if piece.is_laid else False
    late = {"window-missed"} if piece in work.tending else set()
    return late | ({"longer-than-shop-hours"} if outside else set())
