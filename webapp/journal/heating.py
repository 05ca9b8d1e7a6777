"""What goes beside an advice to warm a room: no flame beside finish that stands wet in it, none left on overnight."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from webapp.builds.steps import Step
from webapp.journal.actions import scene as whole_scene
from webapp.journal.scene import Label, Scene
from webapp.journal.waits import ends
from webapp.planning import instants
from webapp.products.models import FINISH
from webapp.shops.models import Shop
from webapp.trade.cautions.work import HEATERS, Caution, Done, caution, for_heating

UNKNOWN = timedelta(hours=24)  # common practice, no source: a coat of which nobody says when it is dry
NAMED = 3


def heating_in(db: Session, shop: Shop, room: str | None, now: datetime) -> Sequence[Caution]:
    """Return the cautions for whoever warms a room of the shop; without a room, wherever something stands wet."""
    return heating_of(whole_scene(db, shop, now), room)


def heating_of(scene: Scene, room: str | None) -> Sequence[Caution]:
    """Return the same in a scene that holds the whole shop."""
    wet = list(_wet_in(scene, room))
    found = [caution(key) for key in for_heating(Done(step.kind, label.name, label.family) for step, label in wet)]
    return [_naming(one, [step.name for step, _ in wet]) if one.key == HEATERS else one for one in found]


def _naming(heaters: Caution, wet: Sequence[str]) -> Caution:
    """The caution about heaters with what it is to be kept away from."""
    names = ", ".join(f"“{name}”" for name in wet[:NAMED]) + (" and more" if len(wet) > NAMED else "")
    are = "is" if len(wet) == 1 else "are"
    return replace(heaters, title=f"{heaters.title}: {names} {are} still wet there") if wet else heaters


def _wet_in(scene: Scene, room: str | None) -> Iterator[tuple[Step, Label]]:
    for step in scene.operations:
        label = scene.label(step)
        is_here = room is None or scene.room(step) in (None, room)
        if is_here and label is not None and label.use == FINISH and _is_wet(scene, step):
            yield step, label


def _is_wet(scene: Scene, step: Step) -> bool:
    """Whether a coat is being laid down, or is not dust free yet: of one without that stage, the first there is."""
    state = scene.state(step)
    if state.started is None and state.finished is None:
        return False
    if state.finished is None or state.abandoned_at is not None:
        return state.abandoned_at is None
    found, dry = ends(scene, step), scene.product(step).dust_free
    if not found:
        return scene.now < state.finished + UNKNOWN
    end = found[dry] if dry in found else next(iter(found.values()))
    return end is None or end > instants.cut(scene.now)
