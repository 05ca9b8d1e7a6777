"""The present moment in the shop: what ends next, what is in hand, what asks, what waits, what could be begun."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy.orm import Session

from webapp.bench.bars import Bar, bar
from webapp.bench.moments import short
from webapp.builds.steps import Step
from webapp.journal import actions
from webapp.journal.air import pace_words
from webapp.journal.heating import heating_of
from webapp.journal.moved import before_reading
from webapp.journal.scene import Scene
from webapp.journal.standing import Standing, is_quiet, standing_of
from webapp.journal.verbs import Clocks, clocks_of
from webapp.journal.waits import Tending, Wait, is_asked
from webapp.journal.words import tending_words
from webapp.planning import instants
from webapp.planning.labour import Question
from webapp.planning.record import State
from webapp.planning.spans import Span
from webapp.shops.document import open_hours
from webapp.shops.models import Shop
from webapp.trade.cautions.work import Caution
from webapp.web.filters import clock_time, when

STARTABLE = ("agreed", "in the making", "delivered", "aftercare")
LISTED = 6
SOON = timedelta(hours=24)


@dataclass(frozen=True)
class Coming:
    """Something that ends or spoils: when, and in words what."""

    at: datetime
    says: str


@dataclass(frozen=True)
class Waiting:
    """A wait as the bench shows it."""

    operation: Step
    build: str
    wait: Wait
    at: datetime
    bar: Bar
    over: str
    start_by: datetime | None
    says: str
    pace: str
    was: datetime | None


@dataclass(frozen=True)
class Bench:
    """All that the page of now shows."""

    next: Coming | None
    in_hand: Sequence[Standing]
    shop_time: Sequence[Span]
    others: Sequence[tuple[str, str, Span]]
    forgotten: Sequence[tuple[str, str, Question]]
    doubts: Sequence[Standing]
    heating: Sequence[Caution]
    asks: Sequence[tuple[Standing, Wait]]
    tending: Sequence[tuple[Standing, Tending]]
    waiting: Sequence[Waiting]
    fits: Sequence[Standing]
    too_long: Sequence[Standing]
    early: Sequence[Standing]
    more: int
    closes: datetime | None
    opens: datetime | None
    left: int
    builds: dict[int, str]
    today: date

    @property
    def is_idle(self) -> bool:
        """Nothing in hand, nothing asks, nothing waits, nothing could be begun."""
        busy = (
            self.in_hand,
            self.shop_time,
            self.others,
            self.forgotten,
            self.doubts,
            self.asks,
            self.tending,
            self.waiting,
        )
        return not any((*busy, self.fits, self.too_long, self.early))


def bench_of(db: Session, shop: Shop, maker_id: int | None, now: datetime, *, is_owner: bool) -> Bench:
    """Return the present moment, seen by one maker, with a constant number of queries."""
    scene = actions.scene(db, shop, now)
    clocks = clocks_of(db, shop, now)
    found = [standing_of(scene, one, maker_id) for one in scene.operations if not is_quiet(scene, one)]
    left, closes, opens = _time_left(shop, maker_id, now)
    forgotten = [question for question in clocks.questions if is_owner or question.span.maker == maker_id]
    asked = {question.span for question in clocks.questions}
    fits, too_long, early, more = _ready(scene, found, left)
    doubts = [one for one in found if one.doubt]
    return Bench(
        next=min(_coming(scene, found), key=lambda one: one.at, default=None),
        in_hand=[one for one in found if one.is_mine and not _is_asked(asked, one, maker_id)],
        shop_time=[span for span in clocks.of(maker_id) if span.operation is None],
        others=_others(shop, scene, clocks, maker_id),
        forgotten=[(_maker(shop, one.span.maker), _about(scene, one.span), one) for one in forgotten],
        doubts=doubts,
        heating=_heating(scene, doubts),
        asks=[(one, wait) for one in found for wait in one.questions],
        tending=[(one, tending) for one in found for tending in one.tending_now],
        waiting=_waiting(scene, found),
        fits=fits,
        too_long=too_long,
        early=early,
        more=more,
        closes=closes,
        opens=opens,
        left=left,
        builds={build.id: build.name for build in scene.builds.values()},
        today=now.astimezone(shop.zone).date(),
    )


def _is_asked(asked: set[Span], one: Standing, maker_id: int | None) -> bool:
    return any(span.operation == one.operation.id and span.maker == maker_id and span.end is None for span in asked)


def _heating(scene: Scene, doubts: Sequence[Standing]) -> Sequence[Caution]:
    """What goes beside the advice to warm a room; where there are several, for all of them at once."""
    rooms = {scene.room(one.operation) for one in doubts if one.doubt and one.doubt.warms}
    return heating_of(scene, rooms.pop() if len(rooms) == 1 else None) if rooms else ()


def _time_left(shop: Shop, maker_id: int | None, now: datetime) -> tuple[int, datetime | None, datetime | None]:
    """Minutes until the maker's closing, when that is, and when he is in again where he is not in now."""
    hours, minute = open_hours(shop, now, maker_id), instants.cut(now)
    begins = hours.next_open(minute)
    closing = hours.closing_after(minute)
    if begins is None or closing is None:
        return 0, None, None
    if begins > minute:
        return 0, None, instants.moment(begins)
    return closing - minute, instants.moment(closing), None


def _maker(shop: Shop, maker_id: int | None) -> str:
    return next((maker.name for maker in shop.makers if maker.id == maker_id), "somebody")


def _about(scene: Scene, span: Span) -> str:
    operation = scene.by_id.get(span.operation or 0)
    if operation is not None:
        return operation.name
    build = scene.builds.get(span.build or 0)
    return span.shop_time or (build.name if build else "other work")


def _others(shop: Shop, scene: Scene, clocks: Clocks, maker_id: int | None) -> list[tuple[str, str, Span]]:
    return [(_maker(shop, span.maker), _about(scene, span), span) for span in clocks.running if span.maker != maker_id]


def _coming(scene: Scene, found: Sequence[Standing]) -> Iterator[Coming]:
    for one in found:
        name = one.operation.name
        for wait in one.waits:
            yield from _wait_coming(scene, name, wait)
        for tending in one.tending:
            if tending.begin > scene.now:
                yield Coming(tending.begin, f"{name}: {tending_words(tending.key).lower()}")
        yield from _must_follow(scene, one)


def _wait_coming(scene: Scene, name: str, wait: Wait) -> Iterator[Coming]:
    if wait.end > scene.now:
        yield Coming(wait.end, _ends(name, wait))
    if wait.follower is not None and wait.until is not None:
        upper = scene.by_id[wait.follower]
        start_by = wait.until - timedelta(minutes=upper.minutes)
        if start_by > scene.now:
            yield Coming(start_by, f"latest start of {upper.name}: the recoat window shuts {when(wait.until)}")


def _ends(name: str, wait: Wait) -> str:
    if wait.mark == "clamped":
        return f"{name} comes {wait.stage}" if wait.stage.startswith("out") else f"{name}: {wait.stage}"
    if wait.follower is not None:
        return f"{wait.words} may go on"
    return f"{name}: {wait.stage}"


def _must_follow(scene: Scene, one: Standing) -> Iterator[Coming]:
    """Work that spoils unless it follows in time: fresh edges, mixed glue."""
    for link in one.operation.after if one.state == State.NOT_STARTED else ():
        earlier = scene.by_id.get(link.waits_for_id)
        done = scene.state(earlier).finished if earlier else None
        if link.within_minutes is not None and done is not None and link.stage is None:
            latest = done + timedelta(minutes=link.lag_minutes + link.within_minutes)
            if latest > scene.now:
                yield Coming(latest, f"latest start of {one.operation.name}")


def _waiting(scene: Scene, found: Sequence[Standing]) -> list[Waiting]:
    before = before_reading(scene, [(one.operation, one.waits) for one in found if one.waits])
    waiting = [_waits(scene, one.operation, wait, before) for one in found for wait in one.waits]
    return sorted(waiting, key=lambda row: (row.at, row.operation.id))


def _waits(scene: Scene, operation: Step, wait: Wait, before: Mapping[tuple[int, str], datetime]) -> Waiting:
    upper = scene.by_id.get(wait.follower or 0)
    marks = [(wait.end, short(wait.end) if wait.until is None else f"{short(wait.end)} open")]
    if wait.until is not None:
        marks.append((wait.until, f"{short(wait.until)} shut"))
    marks += [(one.begin, f"{one.key} {clock_time(one.begin)}") for one in wait.tending if one.begin < wait.end]
    return Waiting(
        operation,
        scene.builds[operation.build_id].name,
        wait,
        wait.next_end(scene.now),
        bar(wait.begin, scene.now, marks),
        operation.name if upper else "",
        wait.until - timedelta(minutes=upper.minutes) if upper and wait.until else None,
        wait.says if wait.end <= scene.now and not is_asked(scene, operation, wait) else "",
        pace_words(scene, operation, wait.stage, wait.begin, wait.end),
        before.get((operation.id, wait.stage)),
    )


def _ready(
    scene: Scene, found: Sequence[Standing], left: int
) -> tuple[list[Standing], list[Standing], list[Standing], int]:
    """What could be begun: what fits the time left, what does not, what only a wait holds; and how many more."""
    open_ones = [one for one in found if one.is_open and scene.builds[one.operation.build_id].status in STARTABLE]
    free = sorted((one for one in open_ones if not one.hard), key=lambda one: _rank(scene, one))
    held = [one for one in open_ones if one.hard and not any(held.order for held in one.hard)]
    early = [one for one in held if all(_is_soon(scene, one.until) for one in one.hard)]
    fits = [one for one in free if one.left <= left]
    too_long = [one for one in free if one.left > left]
    shown = fits[:LISTED], too_long[: max(2, LISTED - len(fits))], early[:LISTED]
    return *shown, len(fits) + len(too_long) - len(shown[0]) - len(shown[1])


def _is_soon(scene: Scene, until: datetime | None) -> bool:
    return until is None or until - scene.now <= SOON


def _rank(scene: Scene, one: Standing) -> tuple[bool, date, int, int]:
    build = scene.builds[one.operation.build_id]
    return one.state != State.PAUSED, build.due_on or date.max, build.id, one.operation.position
