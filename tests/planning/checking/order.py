"""Rules 2 and 11: now, dates, order, pins, what is blocked, what began too early."""

from collections.abc import Iterator
from datetime import date, timedelta

from tests.planning.checking.facts import Facts
from tests.planning.checking.recoat import never_open, windows
from tests.planning.checking.times import Json, cut, local_day, on_wall
from tests.planning.checking.works import Link, State, Work


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        if work.is_to_come:
            yield from (work.say(said) for said in blocked(facts, work))
            if work.is_laid:
                yield from (work.say(said) for said in begins(facts, work))
                yield from (work.say(said) for said in pinned(facts, work))
        elif "blocked" in work.flags and work.is_laid:
            yield work.say("is under way, but flagged blocked")
        yield from (work.say(said) for said in too_early(facts, work))
        for piece in work.pieces:
            if piece.is_laid and piece.spans[0][0] < facts.now:
                yield piece.say("is planned before now")


def blocked(facts: Facts, work: Work) -> Iterator[str]:
    """What waits for something that never comes has no dates and the flag; nothing else has."""
    never = [link for link in facts.links(work) if facts.moment(link) is None or never_open(facts, link)]
    said = "blocked" in work.flags
    if never and (work.is_laid or not said or work.start is not None):
        yield f"waits for {never[0]}, which never comes, but is not blocked"
    elif not never and (said or not work.is_laid) and not without_hours(facts, work):
        yield "is blocked, but nothing it waits for is"
    if said and (work.pieces or any(work.stages.values()) or work.got["latest_start"] is not None):
        yield "is blocked, but has inserted work, stages or a latest start"


def without_hours(facts: Facts, work: Work) -> bool:
    """Whether there may be no hours for it at all: nobody comes in for long enough within a year."""
    first = facts.hours.anyone.next_in(facts.now)
    if first is None:
        return True
    least = facts.shop.get("least_minutes", 0)
    spans = facts.hours.anyone.between(first, first + 365 * 1440)
    return bool(least) and max(end - begin for begin, end in spans) < min(least, work.minutes or least)


def begins(facts: Facts, work: Work) -> Iterator[str]:
    first = work.begins
    if first < facts.now:
        yield f"is planned {facts.now - first} min before now"
    for link in facts.links(work):
        clears = facts.clears(link)
        if clears is not None and first < clears:
            yield f"begins {clears - first} min before {link} is over"
    late = [] if work.is_pinned and keeps_pin(facts, work) else [at for at in facts.dates(work) if first < at]
    if late:
        yield f"begins {max(late) - first} min before its not_before"


def pinned(facts: Facts, work: Work) -> Iterator[str]:
    if work.is_pinned and not keeps_pin(facts, work) and can_keep(facts, work):
        yield f"is pinned to {work.source['pinned']}, but starts {work.got['start']}"


def keeps_pin(facts: Facts, work: Work) -> bool:
    pin: Json = work.source["pinned"]
    start = work.spans[0][0]
    if pin.get("at") is not None:
        return start == cut(pin["at"])
    return local_day(start, facts.zone) == date.fromisoformat(pin["on"])


def can_keep(facts: Facts, work: Work) -> bool:
    """Whether its build's order, and people who are not all at other work, would have let it keep its pin."""
    pin = work.source["pinned"]
    order = max([facts.now, *(at for link in facts.links(work) if (at := facts.clears(link)) is not None)])
    if pin.get("at") is not None:
        at = cut(pin["at"]) or 0
        return order <= at and some_free(facts, work, at)
    day = date.fromisoformat(pin["on"])
    if order >= on_wall(day + timedelta(days=1), "00:00", facts.zone):
        return False
    opens = facts.hours.day(None, day)
    return bool(opens) and some_free(facts, work, max(order, opens[0][0]))


def some_free(facts: Facts, work: Work, at: int) -> bool:
    taken = {
        person
        for person, given in facts.busy.items()
        if any(start < at + work.minutes and at < end and one is not work for start, end, one in given)
    }
    return len(taken) < facts.hours.count


def too_early(facts: Facts, work: Work) -> Iterator[str]:
    """Work that really started before its wait was over says so, and no other work does."""
    said = "too-early" in work.flags
    if work.begun is None:
        if said:
            yield "is flagged too-early, but has not started"
        return
    early = [link for link in facts.links(work) if is_early(facts, link, work.begun)]
    if any(link.is_named for link in early) and not said and work.state is not State.ABANDONED:
        yield f"started before {early[0]} was over, but is not flagged too-early"
    doubtful = [link for link in facts.links(work) if facts.moment(link) is None or in_closed(facts, link, work.begun)]
    if said and not early and not doubtful:
        yield "is flagged too-early, but started when all it waits for was over"


def is_early(facts: Facts, link: Link, started: int) -> bool:
    clears = facts.clears(link)
    return clears is not None and started < clears


def in_closed(facts: Facts, link: Link, started: int) -> bool:
    return bool(link.rows) and not any(one.begin <= started < one.end for one in windows(facts, link))
