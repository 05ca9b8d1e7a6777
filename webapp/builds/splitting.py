"""A glue-up split into several: each has clamps and a wait of its own, and the next begins when they may come off.

The operation itself becomes the last of them, so that what waits for it, lies over it or is handed over with it stays.
"""

from sqlalchemy.orm import Session

from webapp.builds.actions import set_order
from webapp.builds.alike import TIMES, WORK, hold_like, link_like, values
from webapp.builds.keys import key_for
from webapp.builds.models import Link, Operation
from webapp.builds.order import placed

FIRST_ONLY = ("not_before", "pinned_at", "pinned_on")


def split(db: Session, last: Operation, parts: int, stage: str | None) -> list[Operation]:
    """Split an operation into so many, each of which waits for a stage of the one before; returns the new ones."""
    name, keys = last.name, {one.key for one in last.build.operations}
    for column in TIMES:
        whole = getattr(last, column)
        setattr(last, column, None if whole is None else -(-whole // parts))
    new: list[Operation] = []
    for number in range(1, parts):
        one = _alike(last, f"{name}, {number} of {parts}")
        one.key = key_for(one.name, keys)
        keys.add(one.key)
        new.append(one)
    last.name = f"{name}, {parts} of {parts}"
    new[0].after = [link_like(link, link.waits_for_id) for link in last.after]
    for column in FIRST_ONLY:
        setattr(new[0], column, getattr(last, column))
        setattr(last, column, None)
    db.add_all(new)
    db.flush()
    for earlier, later in zip(new, [*new[1:], last], strict=True):
        later.after = [Link(waits_for_id=earlier.id, stage=stage)]
    ordered = last.build.operations
    for one in new:
        ordered = placed([*ordered, one], one, last)
    db.flush()
    set_order(db, ordered)
    return new


def _alike(last: Operation, name: str) -> Operation:
    one = Operation(name=name, **values(last, ("shop_id", "build_id", "position", *WORK)))
    one.holds = [hold_like(hold) for hold in last.holds]
    return one
