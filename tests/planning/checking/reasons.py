"""What `because` may say; whether it is the truth only `dawdles` asks."""

from collections.abc import Iterator

from tests.planning.checking.facts import Facts
from tests.planning.checking.times import cut
from tests.planning.checking.works import Printed


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        planned: list[Printed] = [work] if work.is_to_come and work.is_laid else []
        for one in [*planned, *work.pieces]:
            if one.is_laid:
                yield from (one.say(said) for said in of_reason(facts, one))


def asked(facts: Facts, start: int) -> int | None:
    """The minute that a reason is about: the last of the shop's hours before a start, from now on."""
    minute = facts.hours.of([]).last_before(start)
    return None if minute is None or minute < facts.now else minute


def of_reason(facts: Facts, one: Printed) -> Iterator[str]:
    if one.because is None:
        yield "has no reason for its start"
        return
    why, until, start = one.because["why"], cut(one.because.get("until")), one.spans[0][0]
    minute = asked(facts, start)
    alone = "now" if start == facts.now else "shop-shut"
    if minute is None and why != alone:
        yield f"could not start earlier but for {alone}, and says {why}"
    if minute is not None and why == "now":
        yield "says now, but the shop was open before it starts"
    if minute is not None and until is not None and until <= minute:
        yield f"was kept by {why} until {one.because['until']}, {start - until} min before it starts"
    yield from other_side(facts, one, why)


def other_side(facts: Facts, one: Printed, why: str) -> Iterator[str]:
    assert one.because is not None
    build, key = one.because.get("build"), one.because.get("operation")
    named = [found for found in facts.builds if found.source["name"] == build]
    keys = {printed.key for found in named for work in found.works.values() for printed in (work, *work.pieces)}
    if (build is not None and not named) or (key is not None and key not in keys):
        yield f"was kept by {key} of {build}, which is not there"
    if why in ("order", "stage") and key is None:
        yield f"says {why}, but not of what"
