"""Rows that are only added to: what is put right or taken back is another row of its number, with the next revision."""

from collections.abc import Iterable
from typing import Any, Protocol, TypeVar


class Revised(Protocol):
    number: Any
    revision: Any
    at: Any

    @property
    def is_taken_back(self) -> Any:
        """Whether this row takes back those of its number before it."""


Row = TypeVar("Row", bound=Revised)


def folded(rows: Iterable[Row]) -> list[list[Row]]:
    """Return the rows of each number, the one that counts last, in the order of when they were read or seen."""
    of: dict[int, list[Row]] = {}
    for row in sorted(rows, key=lambda one: (one.number, one.revision)):
        of.setdefault(row.number, []).append(row)
    return sorted(of.values(), key=lambda several: (several[-1].at, several[-1].number))


def standing(rows: Iterable[Row]) -> list[Row]:
    """Return the row that counts of each number that was not taken back, oldest first."""
    return [several[-1] for several in folded(rows) if not several[-1].is_taken_back]
