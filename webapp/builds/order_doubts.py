"""What speaks against the order of the operations of a piece."""

from webapp.builds.models import Build
from webapp.trade.sequence import Doubt, Step, doubts


def doubts_of(build: Build) -> list[tuple[int, Doubt]]:
    """Return (id of the operation, what is doubtful about its place)."""
    keys = {one.id: one.key for one in build.operations}
    steps = [
        Step(one.key, one.name, one.kind, one.group, tuple(keys[link.waits_for_id] for link in one.after))
        for one in build.operations
    ]
    ids = {one.key: one.id for one in build.operations}
    return [(ids[found.key], found) for found in doubts(steps)]
