"""When a piece that has left the bench is fully cured, and what it needs until then.

Its waits go on by the air of the shop's room: what it is like where the piece stands nobody has read.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from webapp.builds.models import PAST
from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.journal.waits import ends
from webapp.planning import instants
from webapp.trade.products.care import care


@dataclass(frozen=True, slots=True)
class Curing:
    """When the last wait of a piece is over, and the care it needs; without care it is over already."""

    at: datetime
    care: str


def curing_of(scene: Scene, build_id: int) -> Curing | None:
    """Return when a piece is fully cured that was delivered or has nothing left to do; nothing of others.

    Of a piece that is still in the shop, nothing once it is cured.
    """
    piece = scene.builds[build_id]
    is_away = piece.status in PAST
    if not is_away and not (piece.steps and all(scene.is_over(step) for step in piece.steps)):
        return None
    found = [(end, use) for step in piece.steps for end, use in _ends(scene, step)]
    if not found:
        return None
    last, now = max(end for end, _ in found), instants.cut(scene.now)
    needs = care({use for end, use in found if end > now})
    return Curing(instants.moment(last), needs) if needs or is_away else None


def _ends(scene: Scene, step: Step) -> Iterator[tuple[int, str]]:
    label = scene.label(step)
    if label is not None:
        yield from ((end, label.use) for end in ends(scene, step).values() if end is not None)
