"""What keeps an operation from being started now, in words, and until when. The maker may start it all the same."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time

from webapp.builds.steps import After, Step
from webapp.journal import air, layers, waits
from webapp.journal.scene import Scene
from webapp.journal.words import tending_words
from webapp.planning import instants
from webapp.planning.record import State
from webapp.trade.waits.cure import Recoat

TOO_EARLY = "too-early"


@dataclass(frozen=True, slots=True)
class Held:
    """Something that holds an operation.

    `until` is when it clears, where the clock tells; with `order` it is an earlier step that is not done, `after` the
    name of that step. With `soft` the clock says it is over and nobody has looked yet: no reason is asked for. `flag`
    is what a maker decides in spite of who starts all the same.
    """

    says: str
    until: datetime | None = None
    order: bool = False
    soft: bool = False
    after: str = ""
    flag: str = TOO_EARLY


def holds(scene: Scene, operation: Step) -> list[Held]:
    """Return what holds an operation now, what clears last first; nothing once it was begun."""
    state = scene.state(operation)
    if state.started is not None and state.state is not State.ABANDONED:
        return []
    found = [*_links(scene, operation), *_recoat(scene, operation), *_dates(scene, operation)]
    found += [Held(one.says, one.until, flag=one.flag) for one in air.against(scene, operation)]
    last = datetime.max.replace(tzinfo=scene.now.tzinfo)
    return sorted(found, key=lambda held: (held.order, held.until or last), reverse=True)


def _links(scene: Scene, operation: Step) -> Iterator[Held]:
    for link in operation.after:
        earlier = _in_place(scene, scene.by_id.get(link.waits_for_id))
        if earlier is not None:
            yield from _link(scene, link, earlier)
    lower = _in_place(scene, scene.by_id.get(operation.over_id or 0))
    if lower is not None and scene.state(lower).finished is None:
        yield _not_done(scene, lower)


def _in_place(scene: Scene, earlier: Step | None) -> Step | None:
    """The operation that a link means: of an abandoned one, the one that does it again."""
    seen: set[int] = set()
    while earlier is not None and earlier.id in scene.again and earlier.id not in seen:
        seen.add(earlier.id)
        if scene.state(earlier).abandoned_at is None:
            break
        earlier = scene.again[earlier.id]
    return earlier


def _not_done(scene: Scene, earlier: Step) -> Held:
    if scene.state(earlier).abandoned_at is not None:
        return Held(f"{earlier.name} was abandoned: do it again first", order=True, after=earlier.name)
    return Held(f"{earlier.name} is not done", order=True, after=earlier.name)


def _link(scene: Scene, link: After, earlier: Step) -> Iterator[Held]:
    state = scene.state(earlier)
    if layers.began(state) is None or (link.stage is None and state.finished is None):
        yield _not_done(scene, earlier)
        return
    begin = instants.up(state.finished) if state.finished else layers.began(state)
    end = begin if link.stage is None else waits.ends(scene, earlier).get(link.stage, begin)
    if end is None:
        yield Held(f"{earlier.name}: {link.stage} is not reached within a year")
        return
    clear = instants.moment(end + link.lag_minutes)
    if clear > scene.now:
        yield Held(f"{earlier.name}: {link.stage}" if link.stage else f"{earlier.name}: its wait is over", clear)
    elif link.stage is None:
        yield from _tending(scene, earlier)
    else:
        yield from _unanswered(scene, earlier, link.stage)


def _tending(scene: Scene, earlier: Step) -> Iterator[Held]:
    for tending in waits.tendings_of(scene, earlier):
        if tending.until > scene.now:
            yield Held(
                f"{earlier.name}: {tending_words(tending.key).lower()} first",
                tending.begin if tending.begin > scene.now else None,
            )


def _unanswered(scene: Scene, earlier: Step, stage: str) -> Iterator[Held]:
    asked = next((one for one in waits.questions(scene, earlier) if one.stage == stage and one.mark == "curing"), None)
    if asked is not None:
        yield Held(f"{earlier.name}: look first whether it is {asked.question}", soft=True)


def _dates(scene: Scene, operation: Step) -> Iterator[Held]:
    if operation.not_before is not None and operation.not_before > scene.now:
        yield Held("By its date it may begin", operation.not_before)
    day = scene.builds[operation.build_id].not_before
    zone = scene.zone
    if day is not None and datetime.combine(day, time(), zone) > scene.now:
        yield Held("By the date of the build it may begin", datetime.combine(day, time(), zone))


def _recoat(scene: Scene, operation: Step) -> Iterator[Held]:
    lower = _in_place(scene, scene.by_id.get(operation.over_id or 0))
    if lower is None:
        return
    found = layers.layers(scene, operation, lower)
    now = instants.cut(scene.now)
    open_now = next((w for w in found.windows if w.begin <= now and (w.end is None or now < w.end)), None)
    if open_now is not None:
        is_hard = open_now == found.tacky and layers.is_hard(scene.state(lower))
        yield from _needs(scene, operation, lower, found.needs_after(open_now) if is_hard else open_now.needs)
        yield from _not_dry(scene, lower, found, open_now)
    elif found.windows:
        yield _shut(lower, found, now)


def _not_dry(scene: Scene, lower: Step, found: layers.Layers, window: Recoat) -> Iterator[Held]:
    stage = found.stage(window)
    again = scene.state(lower).look_again.get(stage)
    if again is not None and again > scene.now:
        was = "still wet" if stage == layers.TACKY else f"not {found.asked(window)}"
        yield Held(f"{lower.name} was {was}: look again", again)
    else:
        yield from _unanswered(scene, lower, stage)


def _shut(lower: Step, found: layers.Layers, now: int) -> Held:
    coming = next((window for window in found.windows if window.begin > now), None)
    closed = any(window.end is not None and window.end <= now for window in found.windows)
    if coming is None:
        so = f", so {layers.in_order(found.missed)} it first" if found.missed else ""
        return Held(f"{lower.name}: every recoat window is gone{so}")
    says = ": the recoat window is closed, open again" if closed else " may be coated over"
    return Held(lower.name + says, instants.moment(coming.begin))


def _needs(scene: Scene, operation: Step, lower: Step, needs: tuple[str, ...]) -> Iterator[Held]:
    coated = scene.state(lower).finished
    missing = [need for need in needs if not _was_done(scene, operation, need, coated)]
    if missing:
        yield Held(
            f"{lower.name}: {layers.in_order(missing)} before the next layer, it is too late to coat it as it is"
        )


def _was_done(scene: Scene, operation: Step, kind: str, since: datetime | None) -> bool:
    same = (one for one in scene.operations if one.build_id == operation.build_id and one.kind == kind)
    ends = (scene.state(one).finished for one in same)
    return any(at is not None and since is not None and at >= since for at in ends)
