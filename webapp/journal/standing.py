"""Where an operation stands, all that its line on a page needs."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from webapp.builds.steps import Step
from webapp.journal.air import Doubt, doubt
from webapp.journal.holds import TOO_EARLY, Held, holds
from webapp.journal.scene import Scene
from webapp.journal.waits import Tending, Wait, has_wait, is_asked, tendings_of, waits_of
from webapp.planning.record import State

TOO_LATE = timedelta(hours=24)  # nobody wipes oil a day later


@dataclass(frozen=True)
class Standing:
    """An operation's state, what holds it, what it waits for, what it asks."""

    operation: Step
    state: str
    is_mine: bool
    others_at_it: int
    since: datetime | None
    before: int
    held: tuple[Held, ...]
    waits: tuple[Wait, ...]
    questions: tuple[Wait, ...]
    tending: tuple[Tending, ...]
    has_wait: bool
    clamps_tight: datetime | None
    early: str
    doubt: Doubt | None
    done_count: int
    left: int
    now: datetime

    @property
    def hard(self) -> tuple[Held, ...]:
        return tuple(one for one in self.held if not one.soft)

    @property
    def after(self) -> tuple[str, ...]:
        """The earlier operations that are not done yet."""
        return tuple(one.after for one in self.hard if one.order)

    @property
    def clock(self) -> int:
        """Whole minutes on the clock that runs."""
        return self.before + int((self.now - (self.since or self.now)).total_seconds() // 60)

    @property
    def is_open(self) -> bool:
        """Not begun, or paused."""
        return self.state in (State.NOT_STARTED, State.PAUSED)

    @property
    def tending_now(self) -> tuple[Tending, ...]:
        return tuple(one for one in self.tending if one.begin <= self.now < one.until + TOO_LATE)


def is_quiet(scene: Scene, operation: Step) -> bool:
    """Return whether an operation has surely nothing to do with now: done without a wait, or far from its turn."""
    state = scene.state(operation)
    if state.at_it:
        return False
    if scene.is_over(operation):
        return operation.product_id is None and not operation.stages and not operation.tend
    if state.started or any(link.within_minutes is not None for link in operation.after):
        return False
    earlier = (scene.by_id.get(link.waits_for_id) for link in operation.after)
    return any(one is not None and scene.state(one) is scene.not_begun for one in earlier)


def standing_of(scene: Scene, operation: Step, maker_id: int | None) -> Standing:
    """Return where an operation stands, seen by one maker."""
    state = scene.state(operation)
    found = waits_of(scene, operation)
    running = next((span for span in state.spans if span.end is None and span.maker == maker_id), None)
    return Standing(
        operation=operation,
        state=state.state.value,
        is_mine=running is not None,
        others_at_it=len({maker for maker in state.at_it if maker != maker_id}),
        since=running.start if running else None,
        before=_before(state.worked_minutes, running.start if running else None, scene.now),
        held=tuple(holds(scene, operation)),
        waits=tuple(wait for wait in found if wait.next_end(scene.now) > scene.now),
        questions=tuple(wait for wait in found if is_asked(scene, operation, wait)),
        tending=tuple(tendings_of(scene, operation)),
        has_wait=has_wait(scene, operation),
        clamps_tight=state.wait_began,
        early=state.overruled.get(TOO_EARLY, ""),
        doubt=doubt(scene, operation),
        done_count=state.done_count,
        left=left_of(operation, state.worked_minutes),
        now=scene.now,
    )


def _before(worked: int, since: datetime | None, now: datetime) -> int:
    """Minutes worked before the running clock was started."""
    return 0 if since is None else max(0, worked - int((now - since).total_seconds() // 60))


def left_of(operation: Step, worked: int) -> int:
    """Return the minutes that are left by the estimate: at least a tenth of it, as the plan has it."""
    return max(operation.minutes - worked // operation.makers, -(-operation.minutes // 10))
