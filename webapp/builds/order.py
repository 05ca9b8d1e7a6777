"""The order in which operations are shown. It says nothing about what waits for what.

Operations of one group stand together; a group stands where its first operation stands.
"""

from collections.abc import Sequence
from typing import Any

from webapp.builds.models import Operation

UP, DOWN, GROUP_UP, GROUP_DOWN = "up", "down", "group-up", "group-down"
DIRECTIONS = {UP: -1, DOWN: 1, GROUP_UP: -1, GROUP_DOWN: 1}

Groups = list[tuple[str, list[Operation]]]


def grouped(operations: Sequence[Operation]) -> Groups:
    """Return (name of the group, its operations), in the order shown."""
    groups: dict[str, list[Operation]] = {}
    for operation in operations:
        groups.setdefault(operation.group, []).append(operation)
    return list(groups.items())


def moved(operations: Sequence[Operation], one: Operation, direction: str) -> list[Operation]:
    """Return the operations in order after one, or its group, went a step up or down. At the end it stays."""
    groups = grouped(operations)
    if direction in (GROUP_UP, GROUP_DOWN):
        names = [name for name, _ in groups]
        _shift(groups, names.index(one.group), DIRECTIONS[direction])
    else:
        members = dict(groups)[one.group]
        _shift(members, members.index(one), DIRECTIONS[direction])
    return [operation for _, members in groups for operation in members]


def _shift(things: list[Any], index: int, step: int) -> None:
    if 0 <= index + step < len(things):
        things.insert(index + step, things.pop(index))


def placed(operations: Sequence[Operation], one: Operation, before: Operation | None) -> list[Operation]:
    """Return the operations in order after one was put before another of its group, or at the end of its group."""
    groups = grouped(operations)
    members = dict(groups)[one.group]
    members.remove(one)
    members.insert(members.index(before) if before in members else len(members), one)
    return [operation for _, members in groups for operation in members]
