"""What a maker is told before the tin is opened, once for each product of a build."""

from collections.abc import Sequence

from webapp.builds.beforehand import Beforehand, Known, beforehand, known_of
from webapp.builds.models import Operation
from webapp.builds.steps import Step
from webapp.db.held import held
from webapp.db.session import session
from webapp.journal.scene import Scene
from webapp.trade.cautions.work import Caution


def known_in(scene: Scene, build_id: int) -> Known:
    """Return what of a build bears on what goes together, read once in a transaction."""
    kept = held(session())
    if ("known", build_id) not in kept:
        steps, labels = scene.builds[build_id].steps, scene.stage.current
        products = {step.product_id: labels[step.product_id] for step in steps if step.product_id is not None}
        coming = {step.product_id for step in steps if not scene.is_over(step)}
        opened = [key for key in products if key in coming]
        now = scene.now.astimezone(scene.zone)
        kept["known", build_id] = known_of(session(), build_id, products, opened, now)
    found: Known = kept["known", build_id]
    return found


def before_of(scene: Scene, operation: Operation) -> Beforehand | None:
    """Return what is to be known before an operation is begun; nothing once it was."""
    step = scene.step(operation)
    if scene.state(step).started is not None:
        return None
    return beforehand(known_in(scene, step.build_id), step, scene.by_id)


def minded(before: Beforehand | None, *, is_told: bool) -> Sequence[Caution]:
    """Return the cautions that are said as an operation is begun, unless the page before has said them."""
    return () if before is None or is_told else before.cautions


def is_untold(scene: Scene, operation: Operation, before: Beforehand | None) -> bool:
    """Return whether there is something that was not said before another operation with this product."""
    if before is None or not before.stops:
        return False
    if before.fails:
        return True
    step = scene.step(operation)
    known = known_in(scene, step.build_id)
    told = (beforehand(known, one, scene.by_id) for one in _begun_with(scene, step))
    return not any(set(before.clashes) <= set(one.clashes) for one in told)


def _begun_with(scene: Scene, step: Step) -> list[Step]:
    """The operations of the build that were begun with the same product."""
    steps = scene.builds[step.build_id].steps
    return [one for one in steps if one.product_id == step.product_id and scene.state(one).started is not None]
