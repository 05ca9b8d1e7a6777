"""Rule 10: work that is done, running, abandoned."""

from collections.abc import Iterator

from tests.planning.checking.facts import Facts
from tests.planning.checking.times import cut, up
from tests.planning.checking.works import State, Work


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        if work.state is State.RUNNING:
            yield from (work.say(said) for said in running(facts, work))
        elif not work.is_to_come:
            yield from (work.say(said) for said in done(facts, work))
        if not (work.is_to_come and work.is_laid) and work.because is not None:
            yield work.say(f"is {work.state} or blocked, but has a reason")
        if work.is_to_come and work.is_laid and work.because is None:
            yield work.say("is to come, but has no reason")


def done(facts: Facts, work: Work) -> Iterator[str]:
    """Done work keeps its real times, and takes no more of anybody's."""
    if work.state is State.ABANDONED:
        real = cut(work.source["started"]) if work.source.get("started") else None, cut(work.source["abandoned"])
    else:
        real = work.begun, up(work.source["finished"])
    if (work.start, work.finish) != real:
        yield f"is {work.state}, but moved to {work.got['start']} until {work.got['finish']}"
    if work.spans and work.spans != [real]:
        yield f"is {work.state}, but planned again"


def running(facts: Facts, work: Work) -> Iterator[str]:
    if work.start != work.begun:
        yield f"runs since {work.source['started']}, but is said to start {work.got['start']}"
    if not work.is_laid:
        yield "runs, but what is left of it is not planned"
        return
    if work.spans[0][0] < facts.now:
        yield "goes on before now"
    first = work.spans[0][0]
    for at in sorted({facts.now, *ends(facts, work)}):
        if facts.now <= at < first and goes_on(facts, work, at):
            yield f"could go on {first - at} min earlier, before anything that has not begun"
            return


def earlier(facts: Facts, work: Work) -> list[Work]:
    """Running work that goes on before it."""
    others = [one for one in facts.works if one.state is State.RUNNING and one is not work and one.is_laid]
    return [one for one in others if (one.begun or 0) <= (work.begun or 0)]


def ends(facts: Facts, work: Work) -> Iterator[int]:
    """Instants at which it may go on: somebody becomes free, or comes in."""
    yield from (given[1] for one in earlier(facts, work) for printed in (one, *one.tending) for given in printed.spans)
    if work.is_split:
        for person in names(facts):
            yield from (begin for begin, _ in facts.hours.of([person]).between(facts.now, work.spans[0][0]))


def names(facts: Facts) -> list[str]:
    return facts.hours.named or [f"somebody {number}" for number in range(facts.hours.count)]


def goes_on(facts: Facts, work: Work, at: int) -> bool:
    """Whether enough people could go on with it at an instant."""
    taken = earlier(facts, work)
    known = {person for one in [work, *taken] for printed in (one, *one.tending) for person in printed.people}
    named = facts.hours.named or sorted(known)
    able = {person for person in named if is_able(facts, work, person, at, taken)}
    if work.is_split and len(work.people) > 1:  # of several who are to meet, only the same ones are asked
        return set(work.people) <= able and facts.hours.of(work.people).run(at, work.minutes) is not None
    strangers = facts.hours.count - len(named)
    return len(able) + (strangers if is_able(facts, work, "", at, []) else 0) >= len(work.people)


def is_able(facts: Facts, work: Work, person: str, at: int, taken: list[Work]) -> bool:
    """Whether somebody is through with what goes on before it, tending included, and in where it may pause."""
    given = [one for work in taken for one in (work, *work.tending) if person in one.people]
    if any(end > at for one in given for _, end in one.spans):
        return False
    return not work.is_split or facts.hours.of([person]).run(at, work.minutes) is not None
