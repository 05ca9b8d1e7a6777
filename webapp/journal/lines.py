"""The journal as it is read: each thing that happened is one line, with what became of it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Select, and_, func, or_, select
from sqlalchemy.orm import Session, aliased

from webapp.builds.models import Build, Operation
from webapp.db.folding import contains, fold
from webapp.journal.models import Entry as Row
from webapp.journal.names import called
from webapp.journal.scene import entry_of, read
from webapp.journal.words import entry_note, entry_words
from webapp.planning.corrections import effective
from webapp.planning.entry import WITHDRAWN, Entry
from webapp.shops.models import Maker

DEEPEST = 12  # corrections of corrections that are followed


@dataclass(frozen=True)
class Line:
    """One line: what stands, or what stood before it was taken back; what it said before."""

    id: str
    at: datetime
    kind: str
    words: str
    note: str
    maker: str
    operation: str
    build: str
    build_id: int | None
    remembered: bool
    before: tuple[tuple[datetime, str, str], ...]
    why: str
    undone_at: datetime | None
    undone_by: str | None
    row: Row


@dataclass(frozen=True)
class Names:
    """What the makers, operations and builds of some lines are called."""

    makers: dict[int, str]
    operations: dict[int, str]
    builds: dict[int, str]


def happened(shop_id: int, build_id: int | None = None, words: str = "") -> Select[Row]:
    """Return the query of what happened, newest first; corrections belong to what they correct."""
    told_already = Row.id.endswith(".early")  # with the start that it belongs to
    # said in a way that keeps the database from going through all that corrects nothing
    first = func.coalesce(Row.corrects, "") == ""
    chosen = select(Row).where(first, ~told_already)
    if build_id is not None:
        moved = aliased(Row)  # a photo may have been put elsewhere
        here = select(moved.corrects).where(moved.corrects.is_not(None), moved.build_id == build_id)
        chosen = chosen.where(or_(Row.build_id == build_id, and_(Row.id.in_(here), Row.shop_id == shop_id)))
    else:
        chosen = chosen.where(Row.shop_id == shop_id)
    if fold(words):
        chosen = chosen.where(_says(shop_id, words))
    return chosen.order_by(Row.at.desc(), Row.arrived_at.desc(), Row.id.desc())


def _says(shop_id: int, words: str) -> ColumnElement[bool]:
    mended = aliased(Row)
    of_shop = mended.shop_id == shop_id, mended.corrects.is_not(None)
    later = select(mended.corrects).where(*of_shop, contains(mended.folded, words))
    builds = select(Build.id).where(contains(Build.folded, words))
    return or_(contains(Row.folded, words), Row.id.in_(later), Row.build_id.in_(builds))


def lines_of(db: Session, rows: Sequence[Row]) -> list[Line]:
    """Return the lines of these rows, in their order, with a constant number of queries."""
    chains = _chains(db, rows)
    told = [entry for chain in chains.values() for entry in chain]
    names = Names(
        called(db, Maker, {row.maker_id for row in rows}),
        called(db, Operation, {entry.operation for entry in told}),
        called(db, Build, {entry.build for entry in told}),
    )
    return [_line(row, chains[row.id], names) for row in rows]


def standing(db: Session, row: Row) -> Entry:
    """Return a line as it stands now, or the line itself where it was taken back."""
    found = effective(_chains(db, [row])[row.id])
    return found[0] if found else entry_of(row)


def _chains(db: Session, rows: Iterable[Row]) -> dict[str, list[Entry]]:
    """Each row with the corrections of it, and theirs. A line of another shop corrects nothing, whatever it names."""
    roots = {row.id: row.id for row in rows}
    of_shop = Row.shop_id.in_({row.shop_id for row in rows})
    chains = {row.id: [entry_of(row)] for row in rows}
    edge = set(roots)
    for _ in range(DEEPEST):
        found = read(db, Row.corrects.in_(edge), of_shop) if edge else []
        for entry in found:
            root = roots[entry.id] = roots[str(entry.corrects)]
            chains[root].append(entry)
        edge = {entry.id for entry in found}
    return chains


def _line(row: Row, chain: list[Entry], names: Names) -> Line:
    stands = effective(chain)
    told = [entry for entry in chain if entry.kind != WITHDRAWN]
    shown = stands[0] if stands else max(told, key=lambda entry: entry.arrived)
    undo = None if stands else _undoing(chain)
    older = [entry for entry in told if entry.id != shown.id and entry.arrived <= shown.arrived]
    return Line(
        id=row.id,
        at=shown.at,
        kind=shown.kind,
        words=entry_words(shown),
        note=entry_note(shown),
        maker=names.makers.get(row.maker_id or 0, ""),
        operation=names.operations.get(shown.operation or 0, ""),
        build=names.builds.get(shown.build or 0, ""),
        build_id=shown.build,
        remembered=shown.data.get("remembered") is True,
        before=tuple((entry.at, entry_words(entry), entry_note(entry)) for entry in older),
        why=shown.word("why") or "",
        undone_at=undo.arrived if undo else None,
        undone_by=undo.id if undo else None,
        row=row,
    )


def _undoing(chain: Iterable[Entry]) -> Entry | None:
    """The newest taking back that nobody took back."""
    by: dict[str, list[Entry]] = defaultdict(list)
    found = list(chain)
    for entry in found:
        if entry.kind == WITHDRAWN:
            by[str(entry.corrects)].append(entry)
    standing_ones = [entry for entry in found if entry.kind == WITHDRAWN and not by.get(entry.id)]
    return max(standing_ones, key=lambda entry: entry.arrived, default=None)
