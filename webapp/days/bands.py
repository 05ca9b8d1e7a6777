"""The plan cut into days: what is done on each, between which hours, and what waits meanwhile."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from webapp.builds.models import PAST
from webapp.builds.steps import Step
from webapp.days.actions import Planning
from webapp.days.document import Open
from webapp.days.drawing import Axis, Bar, Drawing, across, upright
from webapp.days.reasons import sentence
from webapp.planning.hours import Hours
from webapp.planning.instants import local, moment
from webapp.planning.planned import Plan, Planned, PlannedBuild
from webapp.planning.waits import Mark, Part, parts

EARLIEST, LATEST = 6 * 60, 24 * 60
IN_WORDS = {Mark.CLAMPED: "in clamps", Mark.CURING: "curing", Mark.RESTING: "resting"}
TEND_WORDS = {"wipe": "wipe off", "look": "look again", "scrape": "scrape squeeze-out"}


@dataclass(frozen=True)
class Work:
    """A stretch of hands-on work on one day; instants are minutes since 1970."""

    begin: int
    end: int
    name: str
    build: str
    operation: Step
    people: tuple[str, ...]
    why: str
    flags: tuple[str, ...]


@dataclass(frozen=True)
class Waiting:
    """A part of a wait."""

    part: Part
    name: str
    build: str
    operation: Step

    @property
    def words(self) -> str:
        return IN_WORDS[self.part.mark]


@dataclass(frozen=True)
class Day:
    """One day of the plan: what to read, and the same drawn across the page and down it."""

    on: date
    is_today: bool
    open: tuple[tuple[int, int], ...]
    work: tuple[Work, ...]
    waits: tuple[Waiting, ...]
    changes: tuple[Waiting, ...]  # those that begin or end on this day, or run today; the others only run on
    wide: Drawing
    tall: Drawing


def works(plan: Plan, rows: Open, when: Callable[[int], str]) -> Iterator[Work]:
    """Yield every planned stretch of hands-on work, in no order."""
    names = {(name, key): operation.name for (name, key), operation in rows.operations.items()}
    for build in plan.builds:
        for planned in build.operations:
            operation = rows.operations[build.name, planned.of or planned.key]
            flags = tuple(flag.says for flag in planned.flags)
            why = sentence(planned.because, build.name, names, when)
            for begin, end in planned.spans:
                yield Work(begin, end, title(planned, operation), build.name, operation, planned.people, why, flags)


def title(planned: Planned, operation: Step) -> str:
    """Return the name of an operation, or of the tending that was put in for it."""
    if planned.of is None:
        return operation.name
    kind = planned.key.rsplit(".", 1)[-1]
    return f"{operation.name}: {TEND_WORDS.get(kind, kind)}"


def flags(plan: Plan, rows: Open) -> list[tuple[str, str, int, str]]:
    """Return (build, operation or nothing, id of the build, what is wrong and the way out), first what bites first."""
    found: list[tuple[int, str, str, int, str]] = []
    for build in plan.builds:
        build_id = rows.builds[build.name].id
        if rows.builds[build.name].status in PAST:
            continue  # it left the shop: what went wrong stands in its journal
        for flag in build.flags:
            found.append((flag.at or build.due or plan.now, build.name, "", build_id, flag.says))
        for planned in build.operations:
            name = title(planned, rows.operations[build.name, planned.of or planned.key])
            for flag in planned.flags:
                found.append((flag.at or planned.start or plan.now, build.name, name, build_id, flag.says))
    return [one[1:] for one in sorted(found)]


def waits(builds: Iterable[PlannedBuild], rows: Open) -> Iterator[Waiting]:
    """Yield the parts of every wait of planned builds that has begun or will begin."""
    for build in builds:
        wanted = _wanted(rows, build)
        for planned in build.operations:
            if planned.of is not None or planned.finish is None:
                continue
            operation = rows.operations[build.name, planned.key]
            state = rows.states[operation.id]
            begin = minutes(state.waits_from) if state.waits_from else planned.finish
            held = [hold.until for hold in operation.holds if hold.until]
            use = rows.uses.get(operation.product_id or 0)
            for part in parts(begin, planned.stages, use, held, wanted.get(planned.key, ())):
                yield Waiting(part, operation.name, build.name, operation)


def minutes(at: datetime) -> int:
    return int(at.timestamp() // 60)


def _wanted(rows: Open, build: PlannedBuild) -> Mapping[str, set[str]]:
    """Return the stages of each operation of a build that something waits for."""
    found: dict[str, set[str]] = {}
    row = rows.builds[build.name]
    keys = {step.id: step.key for step in row.steps}
    for step in row.steps:
        for link in step.after:
            if link.stage:
                found.setdefault(keys[link.waits_for_id], set()).add(link.stage)
    for wish in row.done_at or ():
        found.setdefault(wish["operation"], set()).add(wish["stage"])
    return found


def days(plan: Planning, now: int, zone: ZoneInfo, count: int, when: Callable[[int], str]) -> list[Day]:
    """Return so many days from now on."""
    first = moment(now, zone).date()
    every_work = sorted(works(plan.plan, plan.rows, when), key=lambda work: work.begin)
    every_wait = list(waits(plan.plan.builds, plan.rows))
    edges = _edges(plan.hours, first, count, zone)
    found = []
    for number in range(count):
        on = first + timedelta(days=number)
        begin, end = local(on, 0, zone), local(on, 24 * 60, zone)
        found.append(
            _day(
                on,
                now if number == 0 else None,
                plan.hours.openings(None, begin, end),
                tuple(work for work in every_work if work.begin < end and work.end > begin),
                tuple(wait for wait in every_wait if wait.part.begin < end and wait.part.end > begin),
                (local(on, edges[0], zone), local(on, edges[1], zone)),
            )
        )
    return found


def _edges(hours: Hours, first: date, count: int, zone: ZoneInfo) -> tuple[int, int]:
    """Return from when till when a day is drawn: the same for all days, so that they can be compared."""
    earliest = EARLIEST
    for number in range(count):
        on = first + timedelta(days=number)
        midnight = local(on, 0, zone)
        for begin, _ in hours.openings(None, midnight, local(on, 24 * 60, zone)):
            earliest = min(earliest, begin - midnight)
    return max(0, earliest // 60 * 60), LATEST


def _day(
    on: date,
    now: int | None,
    openings: Sequence[tuple[int, int]],
    work: tuple[Work, ...],
    waiting: tuple[Waiting, ...],
    edges: tuple[int, int],
) -> Day:
    begin, end = edges

    def cut(first: int, last: int) -> tuple[int, int]:
        return max(0, first - begin), min(end, last) - begin

    first_hour = (LATEST - (end - begin)) // 60
    ticks = tuple((hour * 60, f"{first_hour + hour:02d}:00") for hour in range(0, (end - begin) // 60, 3))
    axis = Axis(
        end - begin,
        tuple(cut(*opening) for opening in openings if opening[1] > begin and opening[0] < end),
        ticks,
        now - begin if now is not None and begin <= now < end else None,
    )
    rows = _by_person(work, cut, edges)
    strips = [
        Bar(*cut(wait.part.begin, wait.part.end), wait.part.mark.value, _label(wait), _label(wait))
        for wait in waiting
        if wait.part.end > begin and wait.part.begin < end
    ]
    is_today = now is not None
    day_begin = begin - (LATEST - (end - begin))
    changes = tuple(wait for wait in waiting if is_today or wait.part.begin >= day_begin or wait.part.end <= end)
    return Day(
        on,
        is_today,
        tuple(openings),
        work,
        waiting,
        changes,
        across(axis, rows, strips),
        upright(*_close_up(axis, rows, strips)),
    )


def _close_up(
    axis: Axis, work: Sequence[Sequence[Bar]], strips: Sequence[Bar]
) -> tuple[Axis, list[list[Bar]], list[Bar]]:
    """Return the day from an hour before it opens to an hour after the last work: a phone has no room for nights."""
    bars = [bar for row in work for bar in row]
    begins = [begin for begin, _ in axis.open] + [bar.start for bar in bars]
    ends = [end for _, end in axis.open] + [bar.end for bar in bars]
    first = max(0, min(begins, default=0) // 60 * 60 - 60)
    last = min(axis.minutes, -(-max(ends, default=axis.minutes) // 60) * 60 + 60)

    def near(bar: Bar) -> Bar:
        return Bar(max(first, bar.start) - first, min(last, bar.end) - first, bar.look, bar.label, bar.title)

    return (
        Axis(
            last - first,
            tuple((begin - first, end - first) for begin, end in axis.open),
            tuple((at - first, text) for at, text in axis.ticks if first <= at < last),
            axis.now - first if axis.now is not None and first <= axis.now < last else None,
        ),
        [[near(bar) for bar in row] for row in work],
        [near(bar) for bar in strips if bar.end > first and bar.start < last],
    )


def _label(wait: Waiting) -> str:
    return f"{wait.name}, {wait.words} · {wait.build}"


def _by_person(
    work: Iterable[Work], cut: Callable[[int, int], tuple[int, int]], edges: tuple[int, int]
) -> list[list[Bar]]:
    """Return a row of bars for each person who works that day, in the order in which they begin."""
    rows: dict[str, list[Bar]] = {}
    for one in work:
        if one.end > edges[0] and one.begin < edges[1]:
            bar = Bar(*cut(one.begin, one.end), "worked", f"{one.name} · {one.build}", f"{one.name}, {one.build}")
            for person in one.people[:1] or ("",):
                rows.setdefault(person, []).append(bar)
    return list(rows.values())
