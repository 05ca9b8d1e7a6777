"""What speaks against the order of the operations of a piece."""

from webapp.builds.models import Build, Link, Operation
from webapp.trade.products.families import closed_minutes
from webapp.trade.sequence import RESTS, VENEER, Doubt, Step, doubts


def doubts_of(build: Build) -> list[tuple[int, Doubt]]:
    """Return (id of the operation, what is doubtful about its place)."""
    keys = {one.id: one.key for one in build.operations}
    steps = [
        Step(
            one.key,
            one.name,
            one.kind,
            one.group,
            tuple(keys[link.waits_for_id] for link in one.after),
            _is_pressed(one),
            tuple(keys[link.waits_for_id] for link in one.after if _rests(link)),
        )
        for one in build.operations
    ]
    ids = {one.key: one.id for one in build.operations}
    return [(ids[found.key], found) for found in doubts(steps)]


def _is_pressed(operation: Operation) -> bool:
    """Whether panels lie in a press after an operation: after veneering, unless the glue holds as it touches."""
    if operation.kind != VENEER or operation.product is None:
        return operation.kind == VENEER
    return closed_minutes(operation.product.name, operation.product.family) != 0


def _rests(link: Link) -> bool:
    """Whether a wait has a rest in it: of a day at least, or by the name of its stage."""
    return link.lag_minutes >= RESTS or "rest" in (link.stage or "").casefold().split()
