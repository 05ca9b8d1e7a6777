"""A server whose clock was set back or never set: known by lines that are still to come.

Small boxes have no clock of their own that runs on without power. No line can be written about a time to come, so one
that is to come was written under another clock. Nobody but the maker can say which of the two was right.
"""

from datetime import UTC, datetime, timedelta
from typing import Any

from flask import render_template, request
from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from webapp.db.session import session
from webapp.journal.models import Entry
from webapp.planning.entry import WITHDRAWN
from webapp.web.clock import now
from webapp.web.filters import LONG_DAYS, MONTHS, local
from webapp.web.guard import visitor

SLACK = timedelta(minutes=5)  # clocks of several servers, and those that are put right while they run, differ so much
FIRST = datetime(2026, 1, 1, tzinfo=UTC)  # Benchtide is no older
BELIEVED = ("clock", "believed")
MENDED = aliased(Entry)


class ClockError(ValueError):
    """A moment that would be written by a clock that is perhaps wrong; the text says why."""


def to_come(db: Session, moment: datetime, shop_id: int | None = None) -> datetime | None:
    """Return the latest time of a line that stands and is still to come; of one shop, or of all."""
    wanted = select(func.max(Entry.at)).where(Entry.at > moment + SLACK, Entry.kind != WITHDRAWN)
    wanted = wanted.where(~select(MENDED.id).where(MENDED.corrects == Entry.id).exists())
    return db.scalar(wanted.where(Entry.shop_id == shop_id) if shop_id is not None else wanted)


def doubt(db: Session, shop_id: int) -> str:
    """Return in a sentence why the clock may be wrong; empty where nothing speaks against it."""
    moment = now()
    if moment < FIRST:
        return f"By the clock of the server it is {_in_full(moment)}, so it was never set."
    latest = to_come(db, moment, shop_id)
    if latest is None:
        return ""
    return f"By the clock of the server it is {_in_full(moment)}, but the journal has a line of {_in_full(latest)}."


def at_start(db: Session, moment: datetime) -> str:
    """Return the same of all shops for whoever starts the server, by the wall clock where it stands."""
    latest = to_come(db, moment)
    if moment >= FIRST and latest is None:
        return ""
    told = f"the journal has a line of {_said(latest.astimezone())}" if latest else "it was never set"
    return f"By the clock of this computer it is {_said(moment.astimezone())}, but {told}. Set the clock."


def _in_full(moment: datetime) -> str:
    return _said(local(moment))


def _said(at: datetime) -> str:
    """Return a moment with its day and its year: which of them is wrong, nobody knows."""
    return f"{LONG_DAYS[at.weekday()]}, {at.day} {MONTHS[at.month - 1]} {at.year}, {at:%H:%M}"


def check() -> None:
    """Raise ClockError unless the clock is beyond doubt, or whoever sent this form has said that it is right."""
    if request.form.get(BELIEVED[0]) == BELIEVED[1]:
        return
    said = doubt(session(), visitor().shop.id)
    if said:
        raise ClockError(said)


def clock_panel(_subject: Any) -> str:
    """Return what every page says meanwhile, or nothing."""
    said = doubt(session(), visitor().shop.id)
    return render_template("journal/_wrong_clock.html", said=said) if said else ""
