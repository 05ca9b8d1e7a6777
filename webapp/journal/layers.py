"""When one layer may go over another: its windows, what is asked of the layer below first, and how the screen says so.

Some layers take the next one while they are tacky (`trade/waits/tacky.py`): there tacky is the right answer, and "not
yet" must not put the next layer off until its window is shut.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.planning import instants
from webapp.planning.network import windows_over
from webapp.planning.record import OperationState
from webapp.products.models import GLUE
from webapp.trade.waits import cure
from webapp.trade.waits.tacky import tacky_window
from webapp.web.filters import capital, said

# what a layer is asked about before the next one goes over it: the label names no stage for either
DRY, TACKY = "dry", "tacky"


@dataclass(frozen=True, slots=True)
class Layers:
    """The windows of a layer over another, in minutes since 1970 UTC; `tacky` is the one while that one is tacky.

    `missed` is what has to be done first where none is left.
    """

    windows: tuple[cure.Recoat, ...] = ()
    tacky: cure.Recoat | None = None
    missed: tuple[str, ...] = ()
    is_glue: bool = False

    def stage(self, window: cure.Recoat) -> str:
        """What the layer below has to be for the next one to go on in a window."""
        return TACKY if window == self.tacky else DRY

    def asked(self, window: cure.Recoat) -> str:
        """The same as somebody is asked for it: a resin is not dry, it is hard."""
        return "hard" if self.is_glue and window != self.tacky else self.stage(window)

    def needs_after(self, window: cure.Recoat) -> tuple[str, ...]:
        """What has to be done first once a window is shut."""
        return next((one.needs for one in self.windows if one.begin > window.begin), self.missed)


def began(state: OperationState) -> int | None:
    """Return when an operation's wait began, in minutes since 1970 UTC, rounded as the shop document has it."""
    if state.abandoned_at is not None:
        return None
    if state.wait_began is not None:
        return instants.cut(state.wait_began)
    return None if state.finished is None else instants.up(state.finished)


def layers(scene: Scene, upper: Step, lower: Step) -> Layers:
    """Return when the upper layer may go on; nothing where no window is known."""
    return scene.once(("layers", upper.id, lower.id), lambda: _layers(scene, upper, lower))


def _layers(scene: Scene, upper: Step, lower: Step) -> Layers:
    state, label = scene.state(lower), scene.label(lower)
    if label is None or state.finished is None or state.abandoned_at is not None:
        return Layers()
    product, begin, air = label.product, began(state) or 0, scene.air(lower)
    found = windows_over(product, scene.product(upper))
    is_glue = label.use == GLUE
    tacky = tacky_window(found, product.stages, product.dust_free, is_glue=is_glue)
    opened = cure.recoat_windows(begin, [tacky], product.pace, air) if tacky else ()
    windows = cure.recoat_windows(begin, found, product.pace, air)
    return Layers(windows, next(iter(opened), None), product.missed_needs, is_glue)


def is_hard(state: OperationState) -> bool:
    """Return whether somebody found a layer hard that was to be coated while it was tacky."""
    tests = [test for test in state.tests if test.stage == TACKY]
    return TACKY in state.reached and bool(tests) and tests[-1].answer == "dry"


@dataclass(frozen=True, slots=True)
class Over:
    """A window of a layer over another with what was found of that one: what goes with the question, or the window."""

    upper: str
    layers: Layers
    window: cure.Recoat
    began: int
    is_tacky: bool
    is_hard: bool

    @property
    def says(self) -> str:
        """What a maker is to know; nothing where dry is all it takes."""
        found, needs = self.layers, in_order(self.layers.needs_after(self.window))
        if found.tacky is None:
            return ""
        if self.window != found.tacky:
            before = f" {capital(in_order(self.window.needs))} before {self.upper}." if self.window.needs else ""
            return f"A thumbnail leaves no mark.{before}"
        if self.is_hard:
            return f"Hard already: {needs} before {self.upper}."
        until = "" if self.window.end is None else f" until {said(self.window.end)}"
        then = f"; after that {needs}" if needs else ""
        if self.is_tacky or self.window.begin == self.began:
            opening = "Tacky as it should be" if self.is_tacky else "No need to wait"
            return f"{opening}: {self.upper} may go on{until}{then}."
        return (
            "Touch it with a glove where nobody looks: tacky means it sticks and nothing comes off. "
            f"Then {self.upper} may go on as it is{until}{then}."
        )


def over(found: Layers, window: cure.Recoat, state: OperationState, upper: str) -> Over:
    """Return a window with what the journal says of the layer below."""
    return Over(upper, found, window, began(state) or 0, TACKY in state.reached, is_hard(state))


def in_order(needs: Sequence[str]) -> str:
    """Return what is done before a layer, in its order: wash, then sand."""
    return ", then ".join(needs)
