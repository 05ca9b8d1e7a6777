"""The journal as it is read: each thing that happened is one line, with what became of it."""

from collections import defaultdict
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import CompoundSelect, Select, bindparam, func, select, union_all
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.db.folding import fold
from webapp.db.texts import contains
from webapp.journal.models import HAS_WORDS
from webapp.journal.models import Entry as Row
from webapp.journal.names import Names, called
from webapp.journal.reading import asked, entry_of, mended, of_shop
from webapp.journal.words import entry_note, entry_words
from webapp.planning.corrections import effective
from webapp.planning.entry import WITHDRAWN, Entry

CORRECTIONS = mended(Row.corrects.in_(bindparam("lines")))
NOT_TOLD = ~Row.id.endswith(".early")  # those are told with the start that they belong to


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


def happened(shop_id: int, build_id: int | None = None, words: str = "", most: int | None = None) -> Select[Row]:
    """Return the query of what happened, newest first; corrections belong to what they correct.

    With words, `most` is how many lines are wanted in all: more than these are not looked for.
    """
    # said in a way that keeps the database from going through all that corrects nothing
    first = func.coalesce(Row.corrects, "") == ""
    chosen = select(Row).where(first, NOT_TOLD)
    if build_id is not None:
        chosen = chosen.where(of_shop(shop_id), Row.id.in_(_of_build(build_id)))
    if fold(words):
        chosen = chosen.where(of_shop(shop_id), Row.id.in_(_says(shop_id, build_id, words, most)))
    elif build_id is None:
        chosen = chosen.where(Row.shop_id == shop_id)
    return chosen.order_by(Row.at.desc(), Row.arrived_at.desc(), Row.id.desc())


def _of_build(build_id: int) -> CompoundSelect[str]:
    """The lines of a build, and those a correction put there: a photo may have been put elsewhere."""
    moved = select(Row.corrects).where(Row.build_id == build_id, Row.corrects.is_not(None))
    return select(Row.id).where(Row.build_id == build_id).union_all(moved)


def _says(shop_id: int, build_id: int | None, words: str, most: int | None) -> CompoundSelect[str]:
    """The newest lines in which words occur, or in a correction of which, or in the name of whose build."""
    builds = select(Build.id).where(Build.shop_id == shop_id, contains(Build.folded, words))
    line = select(func.coalesce(Row.corrects, Row.id)).where(NOT_TOLD).order_by(Row.at.desc())
    if build_id is not None:
        builds, line = builds.where(Build.id == build_id), line.where(Row.build_id == build_id)
    if most is not None:
        line = line.limit(2 * most)  # a line and its correction may both have the words
    place = Row.shop_id == shop_id if build_id is None else of_shop(shop_id)
    told = line.where(place, HAS_WORDS, contains(Row.folded, words)).subquery()
    named = line.where(of_shop(shop_id), Row.build_id.in_(builds)).subquery()
    return union_all(select(told), select(named))


def lines_of(db: Session, rows: Sequence[Row]) -> list[Line]:
    """Return the lines of these rows, in their order, with a constant number of queries."""
    chains = _chains(db, rows)
    told = [entry for chain in chains.values() for entry in chain]
    names = called(
        db,
        makers={row.maker_id for row in rows},
        operations={entry.operation for entry in told},
        builds={entry.build for entry in told},
    )
    return [_line(row, chains[row.id], names) for row in rows]


def standing(db: Session, row: Row) -> Entry:
    """Return a line as it stands now, or the line itself where it was taken back."""
    found = effective(_chains(db, [row])[row.id])
    return found[0] if found else entry_of(row)


def _chains(db: Session, rows: Sequence[Row]) -> dict[str, list[Entry]]:
    """Each row with the corrections of it, and theirs. A line of another shop corrects nothing, whatever it names."""
    chains: dict[str, list[Entry]] = {row.id: [] for row in rows}
    if not rows:
        return chains
    later = asked(db, CORRECTIONS, shop=rows[0].shop_id, lines=list(chains))
    found = {entry.id: entry for entry in (*map(entry_of, rows), *later)}
    for entry in sorted(found.values(), key=_place):
        root = _root(entry, found, chains)
        if root is not None:
            chains[root].append(entry)
    return chains


def _place(entry: Entry) -> tuple[datetime, str]:
    return entry.at, entry.id


def _root(entry: Entry, found: Mapping[str, Entry], roots: Container[str]) -> str | None:
    """What an entry corrects in the end, among the roots."""
    passed: set[str] = set()
    one: Entry | None = entry
    while one is not None and one.id not in roots and one.id not in passed:
        passed.add(one.id)
        one = found.get(one.corrects or "")
    return one.id if one is not None and one.id in roots else None


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
