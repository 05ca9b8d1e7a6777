"""Rule 9: when a build is done and cured, and how late."""

from collections.abc import Iterator
from datetime import date

from tests.planning.checking.facts import Facts
from tests.planning.checking.times import cut, on_wall, up
from tests.planning.checking.works import Build


def faults(facts: Facts) -> Iterator[str]:
    for build in facts.builds:
        yield from (build.say(said) for said in of_build(facts, build))


def of_build(facts: Facts, build: Build) -> Iterator[str]:
    finish, cured = done(build), cured_at(build)
    if cut(build.got["finish"]) != finish:
        yield f"is done {build.got['finish']}, but its last work and the stages it is to reach {far(facts, finish)}"
    if cut(build.got["cured"]) != cured:
        yield f"is cured {build.got['cured']}, but its last wait {far(facts, cured)}"
    said, allowed = build.got["minutes_late"], lateness(facts, build)
    if said not in allowed:
        yield f"is said to be {said} min late, not {sorted(allowed, key=str)}"
    flags = [flag["flag"] for flag in build.got["flags"]]
    if flags != (["late"] if said else []):
        yield f"is {said} min late, but flagged {flags}"


def done(build: Build) -> int | None:
    """When its last operation has ended and the stages it is to reach are reached; None where that never is."""
    ends = [work.ends for work in build.works.values()]
    ends += [build.meant(one["operation"]).stages.get(one["stage"]) for one in build.source.get("done_at", [])]
    known = [end for end in ends if end is not None]
    return max(known) if len(known) == len(ends) else None


def cured_at(build: Build) -> int | None:
    """When the last of its waits is over, and it is done."""
    waits = [done(build), *(at for work in build.works.values() for at in work.stages.values())]
    known = [at for at in waits if at is not None]
    return max(known) if len(known) == len(waits) else None


def lateness(facts: Facts, build: Build) -> set[int | None]:
    """How late it may be said to be: two answers where the due has seconds, of which the document says nothing."""
    due, finish = build.source.get("due"), done(build)
    if finish is None:
        return {None}
    if due is None:
        return {0}
    dues = [up(due), cut(due) or 0] if "T" in due else [closing(facts, date.fromisoformat(due))]
    return {max(0, finish - one) for one in dues}


def far(facts: Facts, at: int | None) -> str:
    return "never are over" if at is None else f"are over {at - facts.now} min from now"


def closing(facts: Facts, day: date) -> int:
    """The shop's last closing on a date, or its end when it is shut."""
    spans = facts.hours.day(None, day)
    return max((end for _, end in spans), default=on_wall(day, "24:00", facts.zone))
