"""From a row to the shop document: an operation's mapping, without what the journal says of it."""

from typing import Any

from webapp.builds.models import Hold, Link, Operation
from webapp.builds.waiting import stage_names


def operation_fields(operation: Operation) -> dict[str, Any]:
    """Return an operation as the shop document has it. What is as usual is left out; times are UTC.

    A stage that its product no longer has means the end of the operation instead.
    """
    fields: dict[str, Any] = {
        "key": operation.key,
        "name": operation.name,
        "group": operation.group,
        "kind": operation.kind,
        "minutes": _minutes(operation),
        "makers": operation.makers,
        "count": operation.count,
        "room": operation.room.name if operation.room else None,
        "product": operation.product.name if operation.product else None,
        "split": operation.split,
        "dusty": operation.dusty,
        "stages": operation.stages,
        "equipment": [_hold(hold, stage_names(operation)) for hold in operation.holds],
        "after": [_link(link) for link in operation.after],
        "over": operation.over.key if operation.over else None,
        "not_before": operation.not_before.isoformat() if operation.not_before else None,
        "pinned": _pinned(operation),
        "assembly_minutes": operation.assembly_minutes,
        "again_for": operation.again_for.key if operation.again_for else None,
    }
    return {key: value for key, value in fields.items() if value not in (None, "", [])}


def _minutes(operation: Operation) -> int | dict[str, int]:
    if operation.low is None and operation.high is None:
        return operation.minutes
    low = operation.minutes if operation.low is None else operation.low
    high = operation.minutes if operation.high is None else operation.high
    return {"low": low, "likely": operation.minutes, "high": high}


def _hold(hold: Hold, stages: list[str]) -> dict[str, Any]:
    fields: dict[str, Any] = {"name": hold.equipment.name, "count": hold.count}
    return fields | {"until": hold.until} if hold.until in stages else fields


def _link(link: Link) -> dict[str, Any]:
    fields: dict[str, Any] = {"operation": link.waits_for.key}
    if link.stage in stage_names(link.waits_for):
        fields["stage"] = link.stage
    if link.lag_minutes:
        fields["lag_minutes"] = link.lag_minutes
    if link.within_minutes is not None:
        fields["within_minutes"] = link.within_minutes
    return fields


def _pinned(operation: Operation) -> dict[str, str] | None:
    if operation.pinned_at:
        return {"at": operation.pinned_at.isoformat()}
    return {"on": operation.pinned_on.isoformat()} if operation.pinned_on else None
