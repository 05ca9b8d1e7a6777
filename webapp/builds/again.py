"""Making a piece again: its operations, parts and sizes in a new build, without its client, dates and record."""

from collections.abc import Mapping
from datetime import datetime

from sqlalchemy.orm import Session

from webapp.builds.alike import WORK, hold_like, link_like, values
from webapp.builds.loading import load_operations
from webapp.builds.models import Build, Operation, Part, Size


def again(db: Session, old: Build, now: datetime) -> Build:
    """Return a new build with the operations, parts and sizes of an old one, without its client, dates and record."""
    new = Build(
        shop_id=old.shop_id,
        name=old.name,
        wood=old.wood,
        weight=old.weight,
        made_by=old.made_by,
        created_at=now,
    )
    db.add(new)
    db.flush()
    load_operations(db, [old])
    _copy_operations(db, old, new)
    keys = {one.key for one in old.operations if not one.again_for_id}
    new.done_at = [row for row in old.done_at or () if row["operation"] in keys] or None
    new.parts = [Part(shop_id=new.shop_id, **values(part, PART_COLUMNS)) for part in old.parts]
    new.sizes = [Size(shop_id=new.shop_id, **values(size, SIZE_COLUMNS)) for size in old.sizes]
    db.flush()
    return new


SIDES = tuple(f"{side}_{form}" for side in ("thickness", "width", "length") for form in ("typed", "nm"))
PART_COLUMNS = ("position", "name", "count", "wood", "cut", "note", *SIDES)
TYPED = ("target_typed", "target_nm", "tolerance_typed", "tolerance_nm")
SIZE_COLUMNS = ("position", "key", "name", "part", "goes_into", "fit", "note", *TYPED)
OPERATION_COLUMNS = ("key", "name", "position", *WORK)


def _copy_operations(db: Session, old: Build, new: Build) -> None:
    """Work that was done again for what was abandoned is not done twice in the new piece."""
    meant = {one.id: one.again_for_id for one in old.operations if one.again_for_id}
    kept = [one for one in old.operations if one.id not in meant]
    rows = {one.id: Operation(shop_id=new.shop_id, build_id=new.id, **values(one, OPERATION_COLUMNS)) for one in kept}
    db.add_all(rows.values())
    db.flush()
    for later, first in meant.items():
        rows[later] = rows.get(first) or rows[_first(first, meant)]
    for one in kept:
        copy = rows[one.id]
        copy.over_id = rows[one.over_id].id if one.over_id else None
        copy.holds = [hold_like(hold) for hold in one.holds]
        waits_for = [(link, rows[link.waits_for_id]) for link in one.after]
        copy.after = [link_like(link, row.id) for link, row in waits_for if row is not copy]


def _first(key: int, meant: Mapping[int, int]) -> int:
    passed = {key}
    while key in meant and meant[key] not in passed:
        key = meant[key]
        passed.add(key)
    return key
