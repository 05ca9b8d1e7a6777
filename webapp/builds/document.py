"""From a row to the shop document: an operation's mapping, without its product and what the journal says of it."""

from collections.abc import Container, Mapping
from dataclasses import dataclass
from typing import Any

from webapp.builds.steps import After, Held, Step


@dataclass(frozen=True)
class Names:
    """What ids mean in a document: operations by their keys, with the named points of their waits, and rooms."""

    keys: Mapping[int, str]
    stages: Mapping[int, Container[str]]
    rooms: Mapping[int, str]


def operation_fields(step: Step, names: Names) -> dict[str, Any]:
    """Return an operation as the shop document has it. What is as usual is left out; times are UTC.

    A stage that its product no longer has means the end of the operation instead.
    """
    fields: dict[str, Any] = {
        "key": step.key,
        "name": step.name,
        "group": step.group,
        "kind": step.kind,
        "minutes": _minutes(step),
        "makers": step.makers,
        "count": step.count,
        "room": names.rooms.get(step.room_id or 0),
        "split": step.split,
        "dusty": step.dusty,
        "stages": step.stages,
        "equipment": [_hold(hold, names.stages[step.id]) for hold in step.holds],
        "after": [_link(link, names) for link in step.after],
        "over": names.keys.get(step.over_id or 0),
        "not_before": step.not_before.isoformat() if step.not_before else None,
        "pinned": _pinned(step),
        "assembly_minutes": step.assembly_minutes,
        "again_for": names.keys.get(step.again_for_id or 0),
    }
    return {key: value for key, value in fields.items() if value not in (None, "", [])}


def _minutes(step: Step) -> int | dict[str, int]:
    if step.low is None and step.high is None:
        return step.minutes
    low = step.minutes if step.low is None else step.low
    high = step.minutes if step.high is None else step.high
    return {"low": low, "likely": step.minutes, "high": high}


def _hold(hold: Held, stages: Container[str]) -> dict[str, Any]:
    fields: dict[str, Any] = {"name": hold.name, "count": hold.count}
    return fields | {"until": hold.until} if hold.until in stages else fields


def _link(link: After, names: Names) -> dict[str, Any]:
    fields: dict[str, Any] = {"operation": names.keys[link.waits_for_id]}
    if link.stage in names.stages[link.waits_for_id]:
        fields["stage"] = link.stage
    if link.lag_minutes:
        fields["lag_minutes"] = link.lag_minutes
    if link.within_minutes is not None:
        fields["within_minutes"] = link.within_minutes
    return fields


def _pinned(step: Step) -> dict[str, str] | None:
    if step.pinned_at:
        return {"at": step.pinned_at.isoformat()}
    return {"on": step.pinned_on.isoformat()} if step.pinned_on else None
