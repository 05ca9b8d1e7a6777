"""Whether an operation could have started earlier, by the same people or others, all else standing still."""

from collections.abc import Iterator, Sequence
from itertools import combinations, islice

from tests.planning.checking.dust import dusty, spoils
from tests.planning.checking.facts import Facts
from tests.planning.checking.follow import is_late
from tests.planning.checking.recoat import Window, needed, windows
from tests.planning.checking.things import Use, joined, start_of, total, uses_of, wet_in, wet_pieces, wet_until
from tests.planning.checking.times import EVER, Span, ends, overlaps
from tests.planning.checking.weather import computed
from tests.planning.checking.works import PUT_IN, Link, Piece, Work

MOST = 100  # sets of people that are tried


class Moved:
    """One operation, begun at another minute: what it is then, and what would forbid it."""

    def __init__(self, facts: Facts, work: Work, at: int, people: Sequence[str]) -> None:
        self.facts, self.work, self.at, self.people = facts, work, at, people
        self.link = next((one for one in facts.links(work) if one.rows), None)
        self.window = self.opened()
        self.needs = needed(facts, self.link, self.window.needs) if self.link and self.window else []
        self.lead, self.dusty = self.led()
        self.spans = self.laid()

    def opened(self) -> Window | None:
        """The window of the layer below that is open then."""
        open_ = windows(self.facts, self.link) if self.link else []
        return next((one for one in open_ if one.begin <= self.at < one.end), None)

    def led(self) -> tuple[int, list[Span]]:
        """How long what is put in before it takes, dust settled, and when that is dusty."""
        at, dusty = self.at, []
        for need in self.needs:
            at += PUT_IN.get(need, 15)
            if need == "sand":
                dusty.append((at - PUT_IN[need], at))
        return max([at, *(end + self.settle for _, end in dusty)]) - self.at, dusty

    def laid(self) -> list[Span] | None:
        """The spans of its work, in the hours of its people; None where they do not let it start then."""
        line, work = self.facts.hours.of(self.people), self.work
        if work.is_split and not self.needs:
            spans = line.run(self.at, work.minutes)
            short = spans and len(spans) > 1 and spans[0][1] - spans[0][0] < self.facts.shop.get("least_minutes", 0)
            return None if short else spans
        start = self.at + self.lead
        return [(start, start + work.minutes)] if line.covers(self.at, start + work.minutes) else None

    def is_free(self) -> bool:
        """Whether nothing forbids it."""
        return self.spans is not None and not any(self.forbids(self.spans))

    def forbids(self, spans: list[Span]) -> Iterator[bool]:
        facts, work, (start, end) = self.facts, self.work, (spans[0][0], spans[-1][1])
        yield self.at < facts.ready(work)
        if self.link:
            yield self.window is None or end > self.window.end
        yield self.is_busy(self.people, [(self.at, start), *spans] if self.lead else spans)
        yield self.is_cold(start, end)
        yield from self.followers(end)
        yield from self.things(spans)
        yield self.dust(spans)
        yield not self.is_tended(spans)

    def is_busy(self, people: Sequence[str], spans: list[Span]) -> bool:
        own = {id(self.work), *(id(piece) for piece in self.work.pieces)}
        given = [one for person in people for one in self.facts.busy.get(person, []) if id(one[2]) not in own]
        return any(overlaps((begin, end), span) for begin, end, _ in given for span in spans)

    def is_cold(self, start: int, end: int) -> bool:
        lowest = self.work.product.get("lowest")
        if lowest is None or "too-cold" in {*self.work.flags, *self.work.source.get("overruled", [])}:
            return False
        lasts = min(ends(self.work.product.get("lowest_for_hours", 24) * 60))
        return self.facts.air(self.work.room).is_under(lowest, start, max(end + lasts, start + 1))

    def followers(self, end: int) -> Iterator[bool]:
        """What follows stands still: it would start before its end, too late after it, or fall out of its window."""
        for link in self.facts.followers[id(self.work)]:
            if link.of.is_laid and link.of.is_to_come:
                moment = self.stage(str(link.stage), end) if link.stage in self.work.stages else end
                yield moment + link.lag > link.of.begins
                if link.within is not None and not is_late(self.facts, link):
                    yield link.of.spans[0][0] > moment + link.within
                yield bool(link.rows) and "window-missed" not in link.of.flags and not self.keeps(link, end)

    def keeps(self, link: Link, end: int) -> bool:
        """Whether the layer over it would still lie in a window."""
        facts, air, upper = self.facts, self.facts.air(self.work.room), link.of
        for row in link.rows:
            rule = facts.rule(self.work.product)
            begins = air.reached(end, row["from_hours"], rule) - {None}
            stops = {EVER} if row.get("to_hours") is None else air.reached(end, row["to_hours"], rule)
            last = max(EVER if at is None else at for at in stops)
            if begins and min(at for at in begins if at) <= upper.begins and upper.spans[-1][1] <= last:
                return True
        return False

    def stage(self, name: str, end: int) -> int:
        """When one of its stages would be reached, at the earliest that rounding leaves open."""
        before, self.work.finish = self.work.finish, end
        try:
            allowed = computed(self.facts, self.work)[name]
        finally:
            self.work.finish = before
        return min(end if at is None else at for at in allowed)

    def things(self, spans: list[Span]) -> Iterator[bool]:
        """Equipment and drying places that others have."""
        start, end = spans[0][0], spans[-1][1]
        for thing in self.facts.shop.get("equipment", []):
            uses = [use for use in uses_of(self.facts, thing) if use.work is not self.work]
            for one in self.work.source.get("equipment", []):
                if one["name"] == thing["name"]:
                    back = end
                    if one.get("until") is not None:
                        back = self.facts.hours.anyone.next_in(self.stage(one["until"], end)) or end
                    own = Use(start, back, min(one["count"], thing["count"]), self.work)
                    yield any(total(around) > thing["count"] for around in crowds(uses, own))
        places = self.facts.rooms.get(self.work.room, {}).get("drying_places")
        if places is not None and self.work.product.get("dust_free") is not None:
            uses = [use for use in wet_in(self.facts, str(self.work.room)) if use.work is not self.work]
            until = self.stage(self.work.product["dust_free"], end)
            own = Use(start, until, 1, self.work, joined(self.facts)[id(self.work)])
            yield any(wet_pieces(around) > places for around in crowds(uses, own))

    def dust(self, spans: list[Span]) -> bool:
        """Whether its dust would spoil a coat, or other dust would spoil it."""
        if self.work.room is None:
            return False
        own = [*self.dusty, *(spans if self.work.is_dusty else [])]
        return any(self.spoils(wet, own) for wet in self.others()) or self.is_spoilt(spans)

    def others(self) -> list[Work]:
        return [one for one in self.facts.works if one.room == self.work.room and one is not self.work]

    @property
    def settle(self) -> int:
        minutes: int = self.facts.rooms.get(self.work.room, {}).get("settle_minutes", 0)
        return minutes

    def spoils(self, coat: Work, own: list[Span]) -> bool:
        start, until = start_of(coat), wet_until(coat)
        if start is None or until is None:
            return False
        hangs = self.settle if coat.is_to_come else 0
        return any(spoils((begin, end), (start, until), hangs) for begin, end in own)

    def is_spoilt(self, spans: list[Span]) -> bool:
        stage = self.work.product.get("dust_free")
        if stage is None:
            return False
        wet = spans[0][0], self.stage(stage, spans[-1][1])
        return any(spoils(span, wet, self.settle) for one in self.others() for span, _, _ in dusty(one))

    def is_tended(self, spans: list[Span]) -> bool:
        """Whether somebody could do all of its tending in time."""
        for tend in self.work.product.get("tend", []):
            first = spans[-1][1] + tend["at_minutes"]
            starts = range(first, first + tend.get("within_minutes", 0) + 1)
            if not any(able(self.facts, self, at, tend["minutes"], spans) for at in starts):
                return False
        return True


def able(facts: Facts, moved: Moved, at: int, minutes: int, spans: list[Span]) -> bool:
    """Whether somebody is in and free for tending; the operation itself takes its people's time."""
    people = facts.hours.named or sorted(facts.busy)
    for person in people:
        is_own = person in moved.people and any(overlaps(span, (at, at + minutes)) for span in spans)
        is_in = facts.hours.of([person]).covers(at, at + minutes)
        if is_in and not is_own and not moved.is_busy([person], [(at, at + minutes)]):
            return True
    return facts.hours.named is None and len(people) < facts.hours.count and facts.hours.of([]).covers(at, at + minutes)


def crowds(uses: list[Use], own: Use) -> Iterator[list[Use]]:
    """All that is taken at each instant of a use at which somebody else begins, and at its own beginning."""
    near = [use for use in uses if use.begin < own.end and own.begin < use.end]
    for at in {own.begin, *(use.begin for use in near if use.begin > own.begin)}:
        yield [own, *(use for use in near if use.begin <= at < use.end)]


def dawdling(facts: Facts, minutes: int) -> Iterator[str]:
    """Operations that could have started in one of the last so many open minutes before their start."""
    for work in facts.works:
        if work.is_free and is_asked(facts, work):
            first = work.before[0] if work.before else work
            found = (at for at in tried(facts, work.begins, minutes) if can_start(facts, work, at))
            yield from (first.say(f"could start {work.begins - at} min earlier") for at in islice(found, 1))
        for piece in work.tending:
            start = piece.spans[0][0]
            found = (at for at in tried(facts, start, minutes) if is_doable(facts, work, piece, at))
            yield from (piece.say(f"could start {start - at} min earlier") for at in islice(found, 1))


def can_start(facts: Facts, work: Work, at: int) -> bool:
    """Whether the same people, or else others, could start it at an instant."""
    return any(Moved(facts, work, at, people).is_free() for people in crews(facts, work))


def crews(facts: Facts, work: Work) -> Iterator[Sequence[str]]:
    yield work.people
    names = facts.hours.named or [*facts.busy, *(f"nobody {n}" for n in range(facts.hours.count - len(facts.busy)))]
    yield from islice(combinations(names, len(work.people)), MOST)


def is_asked(facts: Facts, work: Work) -> bool:
    """Whether it keeps the rules, so that it can be asked for an earlier start that keeps them too."""
    is_outside = "window-missed" in work.flags and any(link.rows for link in facts.links(work))
    return not is_outside and "longer-than-shop-hours" not in work.flags


def tried(facts: Facts, start: int, minutes: int) -> Iterator[int]:
    """The last so many of the shop's open minutes before a start, from now on, backwards."""
    at: int | None = start
    for _ in range(minutes):
        at = None if at is None else facts.hours.of([]).last_before(at)
        if at is None or at < facts.now:
            return
        yield at


def is_doable(facts: Facts, work: Work, piece: Piece, at: int) -> bool:
    """Whether somebody could do a tending at an instant; whose hands are on it already may go on there."""
    tend = next(one for one in work.product["tend"] if one["key"] == piece.name)
    if at < (work.finish or 0) + tend["at_minutes"]:
        return False
    span = at, at + piece.minutes
    people = facts.hours.named or sorted(facts.busy)
    busy = {
        person
        for person, given in facts.busy.items()
        if any(one is not piece and overlaps((begin, end), span) for begin, end, one in given)
    }
    able = [who for who in people if who not in busy and facts.hours.of([who]).covers(*span)]
    idle = facts.hours.named is None and len(people) < facts.hours.count and facts.hours.of([]).covers(*span)
    return bool(able) or idle
