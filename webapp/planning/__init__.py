"""Planning: pure functions from a shop, its builds and a moment to a plan. No clock, no files, no rows.

How to read the planner: `network.py` is the question and `planned.py` the answer; `hours.py` (over `openings.py`) knows
when who is in, `roster.py` who can start when; `graph.py` is what waits for what, and `place.py` lays it out, with
`running.py`, `pinning.py` and `tending.py` for what is fixed, and `airs.py` and `cold.py` for what the air allows;
`explain.py`, `latest.py` and `flags.py` (with `air_flags.py`) say why, how long it may wait, and what is wrong;
`plan.py` puts it together; `backwards` lays builds back from their dates, `laying.py` with `diary.py` for people and
`bounds.py` for what comes after. `document.py` is the way in and out as JSON, `table.py` as
columns for people, `shown.py` the order of a plan printed before.

The record beside it: `entry.py`, `corrections.py`, `record.py`, `spans.py`, `labour.py`, `timesheet.py`.
"""

from webapp.planning.document import answer, read
from webapp.planning.faults import Refused
from webapp.planning.plan import plan
from webapp.planning.printing import write

__all__ = ["Refused", "answer", "plan", "read", "write"]
