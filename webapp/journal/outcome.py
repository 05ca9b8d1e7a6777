"""What became of the operations of builds: when they were begun and done, and how long they took; worked out once.

What the journal says of a build is kept (see `kept.py`) under the build's lines, while no clock runs there.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from webapp.journal.kept import kept
from webapp.journal.models import Entry
from webapp.journal.scene import read
from webapp.planning import entry as planning
from webapp.planning.record import FOLDED, OperationState, State, fold_operations


@dataclass(frozen=True)
class Outcome:
    """What became of one operation; minutes as the clocks have them."""

    started: datetime | None = None
    finished: datetime | None = None
    minutes: int = 0
    is_abandoned: bool = False


NOTHING = Outcome()
Lines = tuple[int, int, datetime]  # a build, how many lines it has, when the last of them arrived
Outcomes = Mapping[int, Outcome]  # by operation; those of which nothing is told are left out


def outcomes(db: Session, builds: Collection[int], now: datetime) -> dict[int, Outcome]:
    """Return what became of the operations of builds, by their ids: one query where nothing happened since."""
    told = select(Entry.build_id, func.count(), func.max(Entry.arrived_at)).where(Entry.build_id.in_(builds))
    rows = db.execute(told.group_by(Entry.build_id)).all()
    lines: list[Lines] = [(build, count, last) for build, count, last in rows if build is not None]
    running: dict[Lines, Outcomes] = {}

    def make(lacking: list[Lines]) -> Mapping[Lines, Outcomes]:
        made = _worked_out(db, lacking, now)
        running.update({one: found for one, (found, is_settled) in made.items() if not is_settled})
        return {one: found for one, (found, is_settled) in made.items() if is_settled}

    found = {**kept(db, lines, make), **running}
    return {operation: outcome for of_build in found.values() for operation, outcome in of_build.items()}


def _worked_out(db: Session, lines: Iterable[Lines], now: datetime) -> dict[Lines, tuple[Outcomes, bool]]:
    """Return the outcomes of builds, and whether they stay as they are while no line is added."""
    by_build = {line[0]: line for line in lines}
    entries: dict[int, list[planning.Entry]] = {build: [] for build in by_build}
    for entry in read(db, Entry.build_id.in_(by_build), Entry.kind.in_(FOLDED)):
        entries[entry.build or 0].append(entry)
    found: dict[Lines, tuple[Outcomes, bool]] = {}
    for build, own in entries.items():
        states = fold_operations(own, now)
        is_settled = all(entry.at <= now for entry in own) and not any(state.at_it for state in states.values())
        found[by_build[build]] = {key: _outcome(state) for key, state in states.items()}, is_settled
    return found


def _outcome(state: OperationState) -> Outcome:
    return Outcome(state.started, state.finished, state.worked_minutes, state.state is State.ABANDONED)
