"""Waits as the bench, the build's page and the plan see them: all ends come from the cure clock, here and there alike.

A wait that was begun keeps the figures named by the entry that began it. Which of its stages part it, and which matter
to anybody, says `planning/waits.py`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from webapp.builds.models import PAST
from webapp.builds.steps import Step
from webapp.journal.air import chill
from webapp.journal.layers import Layers, Over, began, layers, over
from webapp.journal.scene import Scene
from webapp.planning import instants, iso
from webapp.planning.cold import tested
from webapp.planning.reading import stages, tend
from webapp.planning.waits import Mark, Part, parts
from webapp.trade.waits import cure
from webapp.web.filters import capital

LAID = ("coat", "stain")  # kinds of operation that take no clamps
PLACES = (("press", "Leave in the press"), ("form", "Leave on the form"), ("mold", "Leave on the form"))


@dataclass(frozen=True, slots=True)
class Tending:
    """Short work inside a wait that was not done yet: to be begun from `begin` until `until`."""

    operation: int
    key: str
    begin: datetime
    until: datetime
    minutes: int


@dataclass(frozen=True, slots=True)
class Wait:
    """One part of a wait. `until` is when a recoat window shuts; `asks`: somebody has to judge its end."""

    operation: int
    stage: str
    words: str
    mark: str
    begin: datetime
    end: datetime
    until: datetime | None = None
    tending: tuple[Tending, ...] = ()
    asks: bool = False
    follower: int | None = None
    over: Over | None = None

    @property
    def question(self) -> str:
        """What somebody is asked whether it is."""
        return self.stage if self.over is None else self.over.layers.asked(self.over.window)

    @property
    def says(self) -> str:
        """What goes with the question, or with the window that is open."""
        return "" if self.over is None else self.over.says

    @property
    def long(self) -> timedelta:
        """How long it took, or takes."""
        return self.end - self.begin

    def next_end(self, now: datetime) -> datetime:
        """When something changes next: the end, or where that is over the moment the window shuts."""
        return self.until if self.until is not None and self.end <= now else self.end


def ends(scene: Scene, operation: Step) -> dict[str, int | None]:
    """Return when each stage of an operation's wait is reached, in minutes since 1970 UTC; nothing before it began."""
    return scene.once(("ends", operation.id), lambda: _ends(scene, operation))


def _ends(scene: Scene, operation: Step) -> dict[str, int | None]:
    state = scene.state(operation)
    begin = began(state)
    if begin is None:
        return {}
    told = state.as_document_fields()["reached"]
    assert isinstance(told, dict)
    reached = {stage: instants.up(iso.instant(at)) for stage, at in told.items()}
    product, own, now = scene.product(operation), stages(operation.stages or ()), instants.up(scene.now)

    def made() -> dict[str, int | None]:
        return cure.stage_ends(begin, product.stages, own, reached, now, product.pace, scene.air(operation))

    # only "not before then" waits for now to come
    is_settled = all(at <= now for at in reached.values())
    found = scene.stage.once(("ends", operation.id, begin, tuple(reached.items())), made) if is_settled else made()
    met = chill(scene, operation)
    return tested(reached, found, now) if met is not None and met.spoils else found


def has_wait(scene: Scene, operation: Step) -> bool:
    """Return whether a wait follows the hands-on work."""
    return bool(operation.stages or scene.product(operation).stages)


def parts_of(scene: Scene, operation: Step) -> tuple[Part, ...]:
    """Return the parts of an operation's wait that matter to somebody."""
    begin = began(scene.state(operation))
    if begin is None:
        return ()
    label = scene.label(operation)
    held = [hold.until for hold in operation.holds if hold.until]
    return parts(begin, ends(scene, operation), label.use if label else None, held, _wanted(scene, operation))


def _wanted(scene: Scene, operation: Step) -> list[str]:
    """The stages that a later operation or the hand-over waits for."""
    links = [link for op in scene.followers.get(operation.id, ()) for link in op.after]
    wanted = [link.stage for link in links if link.waits_for_id == operation.id and link.stage]
    hand_over = scene.builds[operation.build_id].done_at or ()
    return wanted + [one["stage"] for one in hand_over if one["operation"] == operation.key]


def waits_of(scene: Scene, operation: Step) -> tuple[Wait, ...]:
    """Return the waits of an operation that run, or whose end has not been answered for."""
    return scene.once(("waits", operation.id), lambda: tuple(_waits_of(scene, operation)))


def _waits_of(scene: Scene, operation: Step) -> Iterator[Wait]:
    if scene.state(operation).abandoned_at is not None:
        return
    tending = tuple(tendings_of(scene, operation))
    for wait in [*_stage_waits(scene, operation), *_windows(scene, operation)]:
        if wait.next_end(scene.now) > scene.now or is_asked(scene, operation, wait):
            yield replace(wait, tending=tending)
            tending = ()


def _stage_waits(scene: Scene, operation: Step) -> Iterator[Wait]:
    """A layer that gets another one over it is asked about for that one, and for what else is waited for."""
    wanted = _wanted(scene, operation) if any(_layers_over(scene, operation)) else None
    for part in parts_of(scene, operation):
        if _is_held(operation, part) or wanted is None or part.stage in wanted:
            yield Wait(
                operation.id,
                part.stage,
                words(part.mark, part.stage),
                part.mark.value,
                instants.moment(part.begin),
                instants.moment(part.end),
                asks=part.mark is not Mark.RESTING,
            )


def _is_held(operation: Step, part: Part) -> bool:
    """Whether a part of a wait is one whatever goes over it: a coat of resin is in no clamps."""
    return part.mark is not Mark.CURING and (part.mark is not Mark.CLAMPED or operation.kind not in LAID)


def is_asked(scene: Scene, operation: Step, wait: Wait) -> bool:
    """Return whether a part of a wait is over and nobody has said how it is."""
    answered = wait.stage in scene.state(operation).reached or scene.builds[operation.build_id].status in PAST
    return wait.asks and wait.end <= scene.now and not answered and not scene.is_overtaken(operation)


def words(mark: Mark, stage: str) -> str:
    """Return what the screen says of a part of a wait: where the piece stays, or what it is then."""
    if mark is not Mark.CLAMPED:
        return capital(stage)
    return next((text for word, text in PLACES if word in stage.casefold()), "Leave in clamps")


def questions(scene: Scene, operation: Step) -> list[Wait]:
    """Return the waits of an operation that are over and want an answer."""
    return [wait for wait in waits_of(scene, operation) if is_asked(scene, operation, wait)]


def tendings_of(scene: Scene, operation: Step) -> Iterator[Tending]:
    """Yield the tending of a wait that nobody has done yet and whose wait nobody has cut short."""
    state = scene.state(operation)
    if state.finished is None or scene.is_overtaken(operation):
        return
    given = scene.product(operation).tend if operation.tend is None else tend(operation.tend)
    for tending in cure.tendings(instants.up(state.finished), given):
        if tending.key not in state.tended:
            begin, until = instants.moment(tending.at), instants.moment(tending.by)
            yield Tending(operation.id, tending.key, begin, until, tending.minutes)


def _layers_over(scene: Scene, lower: Step) -> Iterator[Step]:
    for upper in scene.followers.get(lower.id, ()):
        if upper.over_id == lower.id and scene.state(upper).started is None:
            yield upper


def _windows(scene: Scene, lower: Step) -> Iterator[Wait]:
    now = instants.cut(scene.now)
    for upper in _layers_over(scene, lower):
        found = layers(scene, upper, lower)
        coming = (w for w in found.windows if w.end is None or w.end > now)
        window = next(coming, None)
        if window is not None:
            yield _window(scene, upper, lower, found, window)


def _window(scene: Scene, upper: Step, lower: Step, found: Layers, window: cure.Recoat) -> Wait:
    state = scene.state(lower)
    begin = instants.moment(began(state) or 0)
    opens = instants.moment(window.begin)
    shuts = None if window.end is None else instants.moment(window.end)
    stage = found.stage(window)
    end = max(opens, state.look_again.get(stage, opens))
    return Wait(
        lower.id,
        stage,
        upper.name,
        Mark.CURING.value,
        begin,
        min(end, shuts) if shuts and window == found.tacky else end,
        shuts,
        asks=opens > begin,
        follower=upper.id,
        over=over(found, window, state, upper.name),
    )
