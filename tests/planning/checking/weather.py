"""Rules 3 and 4: when stages are reached, the cold, the damp, the open time."""

from collections.abc import Iterator

from tests.planning.checking.air import Air
from tests.planning.checking.facts import Facts
from tests.planning.checking.times import Span, cut, ends, up
from tests.planning.checking.works import State, Work

COLD = {"too-cold", "cold-ahead", "suspect-joint"}
DAMP = {"too-humid", "dew-point"}


def faults(facts: Facts) -> Iterator[str]:
    for work in facts.works:
        if work.state is State.ABANDONED:
            if work.stages or work.flags & (COLD | DAMP | {"open-time"}):
                yield work.say("was abandoned, but has waits or flags of them")
        elif work.finish is not None:
            yield from (work.say(said) for said in stages(facts, work))
            yield from (work.say(said) for said in cold(facts, work))
            yield from (work.say(said) for said in damp(facts, work))
            yield from (work.say(said) for said in open_time(facts, work))


def stages(facts: Facts, work: Work) -> Iterator[str]:
    wanted = computed(facts, work)
    if set(wanted) != set(work.stages):
        yield f"has the stages {sorted(work.stages)}, not {sorted(wanted)}"
        return
    for name, told in work.source.get("reached", {}).items():
        at = told_at(told)
        if min(at) <= facts.now:
            wanted[name] = {*at, *([None] if work.is_spoilt else [])}
        else:
            wanted[name] = {None if end is None else max(end, *at) for end in wanted[name]}
    for name, allowed in wanted.items():
        if work.stages[name] not in allowed:
            yield f'has the stage "{name}" {work.got["stages"][name]}, not {moments(facts, allowed)}'


def told_at(text: str) -> set[int]:
    """When a stage was tested; how seconds are rounded there the document does not say."""
    return {up(text), cut(text) or 0}


def moments(facts: Facts, allowed: set[int | None]) -> str:
    return " or ".join("never" if at is None else f"{(at - facts.now)} min from now" for at in sorted(allowed, key=str))


def computed(facts: Facts, work: Work) -> dict[str, set[int | None]]:
    """When each stage may be reached by the air of the room, or never where the film does not form."""
    air, began = facts.air(work.room), work.began or 0
    own = {one["name"]: one for one in work.source.get("stages", [])}
    found: dict[str, set[int | None]] = {}
    for stage in work.product.get("stages", []):
        mine = own.pop(stage["name"], stage)
        own_rules = [{"doubles_per": one["doubles_per"]} for one in (mine, stage) if "doubles_per" in one]
        rule = facts.rule(work.product, **next(iter(own_rules), {}))
        found[stage["name"]] = air.reached(began, mine["hours"], rule)
    for name, stage in own.items():
        rule = facts.rule(work.product, doubles_per=stage.get("doubles_per"), counts_above=None)
        found[name] = air.reached(began, stage["hours"], rule)
    return {name: {None} for name in found} if work.is_spoilt else found


def cold(facts: Facts, work: Work) -> Iterator[str]:
    said = work.flags & COLD
    lowest, overruled = work.product.get("lowest"), set(work.source.get("overruled", []))
    if lowest is None:
        if said:
            yield f"is flagged {sorted(said)}, but its product knows no cold"
        return
    start = (work.begun if not work.is_to_come else work.spans[0][0]) or 0
    lasts = [(work.finish or 0) + minutes for minutes in ends(work.product.get("lowest_for_hours", 24) * 60)]
    spans = [(start, max(last, start + 1)) for last in lasts]
    allowed = [judged(facts, facts.air(work.room), work, span, overruled) for span in spans]
    if said not in [flags for one in allowed for flags in one]:
        yield f"is flagged {sorted(said)} for the cold, where it should be {[sorted(one) for one in allowed[0]]}"


def judged(facts: Facts, air: Air, work: Work, span: Span, overruled: set[str]) -> list[set[str]]:
    """What may be flagged of the cold in a span."""
    lowest, (start, end) = work.product["lowest"], span
    if work.is_to_come:
        is_cold = air.is_under(lowest, start, end) and "too-cold" not in overruled
        return [{"too-cold"} if is_cold else set()]
    ahead: set[str] = {"cold-ahead"} if air.is_under(lowest, max(start, facts.now), max(end, facts.now)) else set()
    reads = {air.read_under(lowest, start, min(end, facts.now + slack)) for slack in (0, 1)}
    found: list[set[str]] = []
    for read in reads:
        if read and "suspect-joint" not in overruled:
            found += [{"suspect-joint"}, {"suspect-joint"} | ahead]
        else:
            found += [ahead, ahead - overruled]
    return found


def damp(facts: Facts, work: Work) -> Iterator[str]:
    most, gap = work.product.get("humidity_max"), work.product.get("dew_gap")
    air, said = facts.air(work.room), work.flags & DAMP
    pieces = [piece for span in worked(facts, work) for piece in air.pieces(*span)] if {most, gap} != {None} else []
    must, may = set(), set()
    if most is not None and any(air.humidities[piece] > most for piece in pieces):
        must.add("too-humid")
    if gap is not None and pieces:
        least = min(air.gap(piece, facts.unit) for piece in pieces)
        must |= {"dew-point"} if least < gap - 1e-6 else set()
        may |= {"dew-point"} if abs(least - gap) <= 1e-6 else set()
    if not must <= said <= must | may:
        yield f"is flagged {sorted(said)} for the air, where it should be {sorted(must)}"


def worked(facts: Facts, work: Work) -> list[Span]:
    """When somebody has or will have his hands on it."""
    if work.is_to_come:
        return work.spans
    start = work.begun or 0
    if work.state is State.RUNNING:
        return [(start, max(facts.now, start + 1)), *work.spans]
    return [(start, max(work.finish or 0, start + 1))]


def open_time(facts: Facts, work: Work) -> Iterator[str]:
    minutes, given = work.source.get("assembly_minutes"), work.product.get("open_minutes")
    said = "open-time" in work.flags
    if minutes is None or given is None:
        if said:
            yield "is flagged open-time, but nothing is known of that"
        return
    start = (work.begun if not work.is_to_come else work.spans[0][0]) or 0
    rule = facts.rule(work.product)
    above = facts.air(work.room).temperature(start) - (rule.rated_at or 0.0)
    per = rule.faster_per or rule.doubles_per
    has_rule = rule.doubles_per is not None and rule.rated_at is not None and above > 0
    stays = given / 2 ** (above / (per or 1)) if has_rule else given
    if abs(minutes - stays) > 1 / 30 and said != (minutes > stays):
        yield f"takes {minutes} min to put together, the glue stays open {stays:g}, flags {sorted(work.flags)}"
    if said:
        says = next(flag["says"] for flag in work.got["flags"] if flag["flag"] == "open-time")
        parts = {str(number) for slack in (0.05, 0.0, -0.05) for number in [int(-(-(minutes + slack) // stays))]}
        if not parts & set(says.replace(".", " ").replace(",", " ").split()):
            yield f"says {says!r}, not into how many parts: {sorted(parts)}"
