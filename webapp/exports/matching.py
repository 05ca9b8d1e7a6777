"""What a build brings along and its new shop has already: by name, where all the figures are the same."""

from collections.abc import Collection
from dataclasses import dataclass, field
from itertools import count

from sqlalchemy import RowMapping
from sqlalchemy.orm import Session

from webapp.exports import rows
from webapp.exports.checking import Checked
from webapp.exports.kinds import BROUGHT, BY_NAME, inner
from webapp.exports.row import Row
from webapp.exports.taking_out import Writer
from webapp.exports.values import LONGEST_NAME

LONGEST_NUMBER = 8


@dataclass
class Matches:
    """What the shop had already, and what is made anew under which name; by list."""

    matched: dict[str, list[str]] = field(default_factory=dict)
    made: dict[str, list[str]] = field(default_factory=dict)


def match(db: Session, shop_id: int, found: Checked) -> Matches:
    """Lead the rows that a build brings along to those of a shop, and give what is new there a name that is free."""
    there = rows.of_place(db, shop_id)
    writer = Writer(there, lambda _: None, for_a_shop=False)
    matches = Matches()
    for name in BROUGHT:
        kind = BY_NAME[name]
        known = {row["name"]: row for row in there[name]}
        taken = set(known)
        for row in found.rows[name]:
            other = known.get(row.values["name"])
            if other is not None and writer.row(kind, other) == row.raw:
                _lead(row, other, there, found)
                matches.matched.setdefault(name, []).append(row.values["name"])
            else:
                row.values["name"] = free_name(row.values["name"], taken)
                matches.made.setdefault(name, []).append(row.values["name"])
            taken.add(row.values["name"])
    return matches


def free_name(name: str, taken: Collection[str]) -> str:
    """Return the name, or where that is taken the name with a number after it."""
    if name not in taken:
        return name
    numbered = (f"{name[: LONGEST_NAME - LONGEST_NUMBER]} ({number})" for number in count(2))
    return next(one for one in numbered if one not in taken)


def _lead(row: Row, other: RowMapping, there: rows.Rows, found: Checked) -> None:
    """Let a row of the file mean a row of the shop, with all that stands in it."""
    row.id, row.is_skipped = other["id"], True
    for kind in inner(row.kind):
        same = [one for one in there[kind.name] if one[kind.inside] == other["id"]]
        for below, one in zip((one for one in found.rows[kind.name] if one.above is row), same, strict=True):
            below.id, below.is_skipped = one["id"], True
