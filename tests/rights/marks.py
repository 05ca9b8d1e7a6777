"""Names and numbers that nothing else bears.

Each row of our shop has a twin in the other one: their ids differ by a fixed number, so that an id in an address, a
field or a page can be told from any other number, and be put in the place of the other's.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from typing import Any

from sqlalchemy import event, inspect
from sqlalchemy.orm import Session

from webapp.journal.models import Entry
from webapp.tables import metadata

OURS, THEIRS, NOBODYS = "Brackenfirth", "Zwyndhollow", "Quillmarsh"
FIRST = {OURS: 700_000, THEIRS: 300_000, NOBODYS: 500_000}
ID = re.compile(r"(?<![\w.])7\d{5}(?![\w.])|brackenfirth-\d+")
TABLES = [table.name for table in metadata.sorted_tables]
RATE = 57_91  # an hour of the owner, which no helper may see either
PRICE = {OURS: 45_678_91, THEIRS: 65_432_19}  # $45,678.91, which no helper may see


def twin(text: str, of: str = THEIRS) -> str:
    """Return a text with each of our ids in it replaced by that of its twin, or by one that nobody has."""
    return ID.sub(lambda found: _twin(found[0], of), text)


def _twin(found: str, of: str) -> str:
    if not found.isdigit():
        return found.replace(OURS.lower(), of.lower())
    return str(int(found) - FIRST[OURS] + FIRST[of])


def one_twin(text: str, of: str = THEIRS) -> Iterator[str]:
    """Yield a text with one of the ids in it replaced, for each of them."""
    for found in ID.finditer(text):
        yield text[: found.start()] + _twin(found[0], of) + text[found.end() :]


@contextmanager
def numbered(db: Session, mark: str) -> Iterator[None]:
    """Give each new row an id of its shop's range, a thousand for each table."""
    numbers = {name: count(FIRST[mark] + 1000 * place + 1) for place, name in enumerate(TABLES)}

    def before_flush(session: Session, *_: Any) -> None:
        for row in session.new:
            table = str(inspect(row).mapper.local_table.name)  # type: ignore[attr-defined]
            if "id" in type(row).__table__.c and row.id is None and not isinstance(row, Entry):  # type: ignore[attr-defined]
                row.id = next(numbers[table])

    event.listen(db, "before_flush", before_flush)
    yield
    db.flush()
    event.remove(db, "before_flush", before_flush)
