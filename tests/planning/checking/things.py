"""Rule 5: equipment and drying places."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tests.planning.checking.facts import Facts
from tests.planning.checking.times import Json, cut
from tests.planning.checking.works import State, Work


@dataclass(frozen=True)
class Use:
    """So much of something, taken by an operation for a span. `piece` tells one wet piece from another."""

    begin: int
    end: int
    count: int
    work: Work
    piece: int = 0


def faults(facts: Facts) -> Iterator[str]:
    for thing in facts.shop.get("equipment", []):
        yield from short(facts, thing)
        yield from over(facts, uses_of(facts, thing), thing["count"], thing["name"], "equipment-short")
    for room in facts.shop.get("rooms", []):
        places = room.get("drying_places")
        if places is not None:
            uses = wet_in(facts, room["name"])
            yield from over(facts, uses, places, f"drying places of {room['name']}", None, wet_pieces)
    owned = {thing["name"] for thing in facts.shop.get("equipment", [])}
    for work in facts.works:
        asks = {one["name"] for one in work.source.get("equipment", [])}
        if "equipment-short" in work.flags and not asks & owned:
            yield work.say("is flagged equipment-short, but needs none")


def asked(work: Work, name: str) -> list[Json]:
    return [one for one in work.source.get("equipment", []) if one["name"] == name]


def short(facts: Facts, thing: Json) -> Iterator[str]:
    """More asked for than there is is said."""
    for work in facts.works:
        wanted = sum(one["count"] for one in asked(work, thing["name"]))
        if wanted > thing["count"] and work.is_to_come and work.is_laid and "equipment-short" not in work.flags:
            yield work.say(f"asks for {wanted} of {thing['count']} {thing['name']}, and it is not flagged")
    for work in facts.works:
        owned = {one["name"]: one["count"] for one in facts.shop["equipment"]}
        takes = [one for one in work.source.get("equipment", []) if one["name"] in owned]
        fits = all(sum(o["count"] for o in asked(work, one["name"])) <= owned[one["name"]] for one in takes)
        if takes and takes[0]["name"] == thing["name"] and fits and work.is_free and "equipment-short" in work.flags:
            yield work.say("is flagged equipment-short, but takes no more than there is")


def uses_of(facts: Facts, thing: Json) -> list[Use]:
    found = []
    for work in facts.works:
        rest = thing["count"]
        for one in asked(work, thing["name"]):
            count = min(one["count"], rest)
            rest -= count
            span = taken(facts, work, one.get("until"))
            if span is not None and count:
                found.append(Use(*span, count, work))
    return found


def start_of(work: Work) -> int | None:
    """When it takes what it needs: its real start, or that of its own hands-on work."""
    return (work.spans[0][0] if work.is_laid else None) if work.is_to_come else work.begun


def taken(facts: Facts, work: Work, until: str | None) -> tuple[int, int] | None:
    """From when until when equipment is taken."""
    start, finish = start_of(work), work.finish
    if start is None or finish is None:
        return None
    if work.state is State.ABANDONED:
        return start, cut(work.source["abandoned"]) or finish
    if until is None:
        return start, finish
    stage = work.stages.get(until)
    back = facts.hours.anyone.next_in(finish if stage is None else stage)
    return start, finish if back is None else back


def wet_until(work: Work) -> int | None:
    """Until when a coat is wet: its `dust_free` stage, the end of the work where that never comes."""
    stage = work.product.get("dust_free")
    if stage is None or work.finish is None:
        return None
    if work.state is State.ABANDONED:
        return work.finish
    at = work.stages.get(stage)
    return work.finish if at is None else at


def wet_in(facts: Facts, room: str) -> list[Use]:
    found = []
    pieces = joined(facts)
    for work in facts.works:
        start, until = start_of(work), wet_until(work)
        if work.room == room and start is not None and until is not None:
            found.append(Use(start, until, 1, work, pieces[id(work)]))
    return found


def joined(facts: Facts) -> dict[int, int]:
    """The piece that each operation is a layer of: those joined by `over`, or done again, are one."""
    piece = {id(work): number for number, work in enumerate(facts.works)}
    for build in facts.builds:
        for work in build.works.values():
            names = [work.source.get(key) for key in ("over", "again_for")]
            others = [build.works[name] for name in names if name is not None]
            for other in [*others, *(build.meant(one.key) for one in others)]:
                old, new = piece[id(other)], piece[id(work)]
                piece = {one: new if number == old else number for one, number in piece.items()}
    return piece


def wet_pieces(uses: list[Use]) -> int:
    return len({use.piece for use in uses})


def total(uses: list[Use]) -> int:
    return sum(use.count for use in uses)


def over(
    facts: Facts,
    uses: list[Use],
    most: int,
    name: str,
    flag: str | None,
    count: Callable[[list[Use]], int] = total,
) -> Iterator[str]:
    """Where more is taken than there is, by something that the planner laid there."""
    for at in sorted({use.begin for use in uses if use.begin >= facts.now}):
        around = [use for use in uses if use.begin <= at < use.end]
        free = [use.work for use in around if use.work.is_free]
        fixed = [use.work for use in around if use.work.is_pinned]
        if count(around) <= most:
            continue
        names = " and ".join(use.work.path for use in around)
        if free:
            last = max(free, key=lambda work: work.spans[0][0])
            yield last.say(f"takes {name} beyond {most}: {names} have {count(around)} at its time")
        elif fixed and flag is not None and not any(flag in work.flags for work in fixed):
            yield fixed[-1].say(f"takes {name} beyond {most}: {names} have {count(around)}, and it is not flagged")
