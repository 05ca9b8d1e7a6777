"""Rule 1: hours, people, pauses, work longer than any opening, people who are not there."""

from collections.abc import Iterator
from itertools import combinations, islice, pairwise

from tests.planning.checking.facts import Facts
from tests.planning.checking.hours import Line
from tests.planning.checking.times import DAY, Span
from tests.planning.checking.works import Piece, State, Work

MOST = 2000  # sets of people that are looked at


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        if work.is_laid and work.state in (State.TO_COME, State.RUNNING):
            yield from (work.say(said) for said in of_work(facts, work))
        for piece in work.pieces:
            yield from (piece.say(said) for said in of_piece(facts, piece, work))
    yield from nobody_twice(facts)


def of_work(facts: Facts, work: Work) -> Iterator[str]:
    if work.minutes not in work.lefts():
        yield f"has {work.minutes} min of work, not {sorted(work.lefts())}"
    if work.start != work.spans[0][0] and work.state is not State.RUNNING:
        yield "does not start with its first span"
    yield from strangers(facts, work.people)
    line = facts.hours.of(work.people)
    if len(work.spans) > 1 and not work.is_split:
        yield "is of one piece, but lies in parts"
    for (_, end), (start, _) in pairwise(work.spans):
        if line.minutes(end, start):
            yield f"pauses for {start - end} min in which {work.people} are in"
    yield from in_hours(line, work)
    yield from least(facts, work)
    yield from enough(facts, work)


def strangers(facts: Facts, people: list[str]) -> Iterator[str]:
    known = facts.hours.named
    if known is not None and not set(people) <= set(known):
        yield f"is given to {sorted(set(people) - set(known))}, who are not of the shop"
    if known is None and len(facts.busy) > facts.hours.count:
        yield f"is given to {people}, but the shop has {facts.hours.count} people for {sorted(facts.busy)}"


def in_hours(line: Line, work: Work) -> Iterator[str]:
    inside = all(line.covers(*span) for span in work.spans)
    said = "longer-than-shop-hours" in work.flags
    if not inside and not said:
        yield f"lies outside the hours of {work.people}"
    if inside and said and block_in_hours(line, work):
        yield "is flagged longer-than-shop-hours, but lies inside them"


def block_in_hours(line: Line, work: Work) -> bool:
    return not work.before or line.covers(work.begins, work.spans[-1][1])


def least(facts: Facts, work: Work) -> Iterator[str]:
    minutes = facts.shop.get("least_minutes", 0)
    first = work.spans[0][1] - work.spans[0][0]
    if work.is_free and work.is_split and len(work.spans) > 1 and first < minutes:
        yield f"begins {first} min before closing, less than {minutes}, and does not end by then"


def enough(facts: Facts, work: Work) -> Iterator[str]:
    """As many people as asked for, or all that ever meet, and then it is said."""
    asked, given = work.source.get("makers", 1), len(work.people)
    said = "maker-short" in work.flags
    if given > asked or (given == asked and said) or (given < asked and not said):
        yield f"asks for {asked} makers and has {work.people}, flags {sorted(work.flags)}"
    elif given < asked and work.is_free:
        could = {meeting(facts, at, asked) for at in (facts.ready(work), work.begins)}
        if given not in could:
            yield f"is given to {work.people} only, but {max(could)} of {asked} makers could meet"
    elif work.state is State.RUNNING and given < meeting(facts, facts.now, asked):
        yield f"goes on with {work.people} only, though {asked} makers could meet"


def meeting(facts: Facts, at: int, asked: int) -> int:
    """How many people, of so many asked for, are ever in together within 14 days of somebody coming in."""
    first = facts.hours.anyone.next_in(at)
    if first is None:
        return 0
    for count in range(min(asked, facts.hours.count), 0, -1):
        if any(line.between(first, first + 14 * DAY) for line in mixes(facts, count)):
            return count
    return 0


def mixes(facts: Facts, count: int) -> list[Line]:
    """The common hours of each set of so many people."""
    hours = facts.hours
    if hours.named is None:
        return [hours.of([])]
    sets = islice(combinations(hours.named, count), MOST)
    kept = dict.fromkeys(frozenset(hours.kept(who) for who in people) for people in sets)
    return [hours.of_kept(one) for one in kept]


def of_piece(facts: Facts, piece: Piece, work: Work) -> Iterator[str]:
    if not piece.is_laid:
        yield "is put into the plan without a time"
        return
    yield from strangers(facts, piece.people)
    if len(piece.spans) > 1:
        yield "is of one piece, but lies in parts"
    said = piece.flags | (work.flags if piece in work.before else set())
    if "longer-than-shop-hours" not in said and not facts.hours.of(piece.people).covers(*piece.spans[0]):
        yield f"lies outside the hours of {piece.people}"


def nobody_twice(facts: Facts) -> Iterator[str]:
    for person, given in facts.busy.items():
        last = 0
        for start, end, one in given:
            if start < last:
                yield one.say(f"needs {person}, who is at other work then")
            last = max(last, end)
    yield from too_long(facts)


def too_long(facts: Facts) -> Iterator[str]:
    """Work longer than any opening begins with the longest of seven days."""
    for work in facts.works:
        if work.is_free and "longer-than-shop-hours" in work.flags:
            span = work.begins, work.spans[-1][1]
            asked = [max(facts.ready(work), span[0] - 7 * DAY + 1), span[0]]
            line = facts.hours.of(work.people)
            own = line.around(span[0])
            if own is None or own[0] != span[0]:
                yield work.say(f"runs past closing, but does not begin when {work.people} come in")
            elif own[1] < span[1] and not is_longest(facts, own, len(work.people), asked):
                yield work.say("runs past closing, but not from the longest opening of seven days")


def is_longest(facts: Facts, own: Span, people: int, asked: list[int]) -> bool:
    """Whether, asked at some instant of a span, an interval is the longest that begins in the next seven days."""
    first, last = asked
    lines = mixes(facts, people)
    openings = [one for line in lines for one in line.between(first, last + 7 * DAY) if one[0] >= first]
    length = own[1] - own[0]
    for at in sorted({first, last, *(begin + 1 for begin, _ in openings if begin < last)}):
        near = [(begin, end - begin) for begin, end in openings if at <= begin < at + 7 * DAY]
        if all(long < length or (long == length and begin >= own[0]) for begin, long in near):
            return True
    return False
