"""Where the operations of builds stand, as the journal has it; folded once.

What is folded of a build is kept (see `kept.py`) under the lines of the build. What depends on the present instant is
put right at each look: running clocks go on. A build with a line that is still to come, by a phone whose clock runs
ahead, is folded anew.
"""

from collections.abc import Collection, Iterable, Mapping
from datetime import datetime

from sqlalchemy import bindparam, func, select
from sqlalchemy.orm import Session

from webapp.builds.steps import Step
from webapp.journal.kept import kept
from webapp.journal.models import Entry
from webapp.journal.reading import read
from webapp.planning import entry as planning
from webapp.planning.record import FOLDED, OperationState, as_of, fold_operations
from webapp.shops.actions import READING_HOLDS

Lines = tuple[int, int, datetime]  # a build, how many lines it has, when the last of them arrived
TOLD = (
    select(Entry.build_id, func.count(), func.max(Entry.arrived_at))
    .where(Entry.build_id.in_(bindparam("builds")))
    .group_by(Entry.build_id)
)
States = Mapping[int, OperationState]  # by operation


def states_of(db: Session, builds: Collection[int], now: datetime) -> dict[int, OperationState]:
    """Return where the operations of builds stand, those of which anything is told: one query where nothing is new."""
    rows = db.execute(TOLD, {"builds": list(builds)})
    lines: list[Lines] = [(build, count, last) for build, count, last in rows if build is not None]
    found = kept(db, lines, lambda lacking: _folded(db, lacking, now))
    return {key: as_of(state, now) for states in found.values() for key, state in states.items()}


def _folded(db: Session, lines: Iterable[Lines], now: datetime) -> dict[Lines, tuple[States, bool]]:
    """Return the states of builds, and whether no line is later than now."""
    by_build = {line[0]: line for line in lines}
    entries: dict[int, list[planning.Entry]] = {build: [] for build in by_build}
    for entry in read(db, Entry.build_id.in_(by_build), Entry.kind.in_(FOLDED)):
        entries[entry.build or 0].append(entry)
    found: dict[Lines, tuple[States, bool]] = {}
    for build, own in entries.items():
        found[by_build[build]] = fold_operations(own, now), all(entry.at <= now for entry in own)
    return found


def aired_from(steps: Iterable[Step], states: States, now: datetime) -> datetime:
    """Return from when on readings matter: since the first work or wait that has to do with the air of its room."""
    own = (states.get(step.id) for step in steps if step.product_id is not None or step.stages)
    return min([now, *(at for state in own if state for at in (state.started, state.waits_from) if at)]) - READING_HOLDS
