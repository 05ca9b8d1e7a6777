"""What is alike in a row that is made after another one: of an operation, what it waits for and what it holds."""

from collections.abc import Iterable
from typing import Any

from webapp.builds.models import Hold, Link

TIMES = ("minutes", "low", "high", "assembly_minutes")
WORK = ("group", "kind", "note", *TIMES, "makers", "count", "split", "dusty", "room_id", "product_id", "stages", "tend")


def values(row: Any, columns: Iterable[str]) -> dict[str, Any]:
    return {column: getattr(row, column) for column in columns}


def hold_like(hold: Hold) -> Hold:
    return Hold(**values(hold, ("equipment_id", "count", "until")))


def link_like(link: Link, waits_for_id: int) -> Link:
    return Link(waits_for_id=waits_for_id, **values(link, ("stage", "lag_minutes", "within_minutes")))
