"""Where the operations of builds stand, as the journal has it; folded once.

What is folded of a build is kept (see `kept.py`) under the lines of the build, while no clock runs there.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from webapp.journal.kept import kept
from webapp.journal.models import Entry
from webapp.journal.reading import read
from webapp.planning import entry as planning
from webapp.planning.record import FOLDED, OperationState, fold_operations

Lines = tuple[int, int, datetime]  # a build, how many lines it has, when the last of them arrived
States = Mapping[int, OperationState]  # by operation


def states_of(db: Session, builds: Collection[int], now: datetime) -> dict[int, OperationState]:
    """Return where the operations of builds stand, those of which anything is told: one query where nothing is new."""
    told = select(Entry.build_id, func.count(), func.max(Entry.arrived_at)).where(Entry.build_id.in_(builds))
    rows = db.execute(told.group_by(Entry.build_id)).all()
    lines: list[Lines] = [(build, count, last) for build, count, last in rows if build is not None]
    running: dict[Lines, States] = {}

    def make(lacking: list[Lines]) -> Mapping[Lines, States]:
        made = _folded(db, lacking, now)
        running.update({one: found for one, (found, is_settled) in made.items() if not is_settled})
        return {one: found for one, (found, is_settled) in made.items() if is_settled}

    found = {**kept(db, lines, make), **running}
    return {key: replace(state, as_of=now) for states in found.values() for key, state in states.items()}


def _folded(db: Session, lines: Iterable[Lines], now: datetime) -> dict[Lines, tuple[States, bool]]:
    """Return the states of builds, and whether they stay as they are while no line is added."""
    by_build = {line[0]: line for line in lines}
    entries: dict[int, list[planning.Entry]] = {build: [] for build in by_build}
    for entry in read(db, Entry.build_id.in_(by_build), Entry.kind.in_(FOLDED)):
        entries[entry.build or 0].append(entry)
    found: dict[Lines, tuple[States, bool]] = {}
    for build, own in entries.items():
        states = fold_operations(own, now)
        is_settled = all(entry.at <= now for entry in own) and not any(state.at_it for state in states.values())
        found[by_build[build]] = states, is_settled
    return found
