"""Rule 7: one layer over another."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from tests.planning.checking.facts import Facts
from tests.planning.checking.follow import follows_late
from tests.planning.checking.times import EVER
from tests.planning.checking.works import PUT_IN, Build, Link, Work


@dataclass(frozen=True)
class Window:
    """When the next layer may go on; where rounding leaves a minute open it counts as inside."""

    begin: int
    end: int
    needs: tuple[str, ...]


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        link = next((one for one in facts.links(work) if one.rows), None)
        if work.is_to_come and work.is_laid:
            yield from (work.say(said) for said in of_layer(facts, work, link))
        elif work.before:
            yield work.say(f"has {put_in(work)} put in before it, though it has begun or is blocked")


def windows(facts: Facts, link: Link) -> list[Window]:
    """The windows of a layer that ever open, stretched by the figures and the air of the one below."""
    lower = link.to
    began, rule = lower.began, facts.rule(lower.product)
    if began is None:
        return []
    found = []
    for row in link.rows:
        begins = facts.air(lower.room).reached(began, row["from_hours"], rule)
        ends: set[int | None] = {EVER}
        if row.get("to_hours") is not None:
            ends = facts.air(lower.room).reached(began, row["to_hours"], rule)
        if begins != {None}:
            begin = min(at for at in begins if at is not None)
            found.append(Window(begin, max(EVER if at is None else at for at in ends), tuple(row.get("needs", []))))
    return found


def never_open(facts: Facts, link: Link) -> bool:
    """Whether a layer waits for windows none of which ever opens."""
    return bool(link.rows) and not windows(facts, link)


def of_layer(facts: Facts, work: Work, link: Link | None) -> Iterator[str]:
    missed = "window-missed" in work.flags
    if link is None:
        if work.before:
            yield f"has {[one.key for one in work.before]} put in before it, which no window needs"
        if missed and not follows_late(facts, work):
            yield "is flagged window-missed, but has no window to miss"
        return
    yield from lead(facts, work)
    open_ = windows(facts, link)
    around = [one for one in open_ if one.begin <= work.begins and work.spans[-1][1] <= one.end]
    if not around:
        yield from outside(facts, work, link, open_)
        return
    if missed and not follows_late(facts, work):
        yield "is flagged window-missed, but lies inside a window"
    wanted = [needed(facts, link, one.needs) for one in around]
    if put_in(work) not in wanted and not (work.is_pinned and not work.before):
        yield f"has {put_in(work)} put in before it, where its window needs {wanted[0]}"


def outside(facts: Facts, work: Work, link: Link, open_: list[Window]) -> Iterator[str]:
    if "window-missed" not in work.flags:
        yield f"goes on over {link} outside every window, and is not flagged"
    if work.is_pinned:
        return
    if open_ and work.begins < open_[0].begin:
        yield f"goes on over {link} before the first window opens"
    if open_ and open_[-1].end == EVER:
        yield f"misses its windows over {link}, though the last one stays open"
    rescues = [one.get("missed_needs", ["scuff"]) for one in (link.to.product, work.product)]
    wanted = [needed(facts, link, tuple(needs)) for needs in rescues]
    if put_in(work) not in wanted:
        yield f"has {put_in(work)} put in before it, where the rescue is {wanted[0]}"


def put_in(work: Work) -> list[str]:
    return [piece.name for piece in work.before]


def needed(facts: Facts, link: Link, needs: tuple[str, ...]) -> list[str]:
    """What a window needs to have put in: not what the build has of its own between the layers."""
    own = between(facts.builds[link.of.build], facts, link)
    return [need for need in needs if need not in own]


def between(build: Build, facts: Facts, link: Link) -> set[str]:
    """The kinds of the operations that come after the layer below and before the coat."""
    after = reached(link.to, lambda work: [one.of for one in facts.followers[id(work)]])
    before = reached(link.of, lambda work: [one.to for one in facts.links(work)])
    return {
        work.source["kind"]
        for work in build.works.values()
        if id(work) in after and id(work) in before and work not in (link.to, link.of)
    }


def reached(start: Work, nexts: Callable[[Work], list[Work]]) -> set[int]:
    found: set[int] = set()
    edge = [start]
    while edge:
        work = edge.pop()
        if id(work) not in found:
            found.add(id(work))
            edge += nexts(work)
    return found


def lead(facts: Facts, work: Work) -> Iterator[str]:
    """What is put in lies back to back with the coat, in one opening, by the same people, dust settled."""
    if not work.before:
        return
    for piece in work.before:
        if piece.people != work.people:
            yield f"is done by {work.people}, but {piece.key} by {piece.people}"
        if piece.minutes != PUT_IN.get(piece.name, piece.minutes):
            yield f"has {piece.key} of {piece.minutes} min before it, not {PUT_IN[piece.name]}"
    if work.spans[0][0] not in follow_on(facts, work):
        yield f"does not follow back to back on {work.before[0].key}"
    line = facts.hours.of(work.people)
    if "longer-than-shop-hours" not in work.flags and not line.covers(work.begins, work.spans[-1][1]):
        yield "and what is put in before it do not lie in one opening"


def follow_on(facts: Facts, work: Work) -> set[int]:
    """When a coat may start after what is put in before it."""
    spans = [piece.spans[0] for piece in work.before]
    if any(one[1] > other[0] for one, other in pairwise(spans)) or spans[-1][1] > work.spans[0][0]:
        return set()
    at = spans[0][0] + sum(end - begin for begin, end in spans)
    settle = facts.rooms.get(work.room, {}).get("settle_minutes", 0)
    settled = [piece.spans[0][1] + settle for piece in work.before if piece.is_dusty]
    # Where nothing wet would take the dust, settling is not asked for by rule 6.
    return {max([at, *settled])} | ({at} if work.product.get("dust_free") is None else set())
