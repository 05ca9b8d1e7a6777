"""The plan of a shop, worked out from rows. Kept while nothing changes, never as truth."""

from dataclasses import dataclass
from datetime import datetime

from flask import current_app, g
from sqlalchemy.orm import Session

from webapp.days.document import Open, shop_document
from webapp.days.orders import Gain, Known, Order, known_of, laid_at_once
from webapp.days.seeker import Job, seeker
from webapp.db.kept import Kept
from webapp.db.session import only_reads
from webapp.planning.hours import Hours
from webapp.planning.planned import Plan
from webapp.settings import Settings


@dataclass(frozen=True)
class Planning:
    """A plan, the rows behind its names, the hours it was laid into, and what its order gained, if it is a new one."""

    plan: Plan
    rows: Open
    hours: Hours
    gain: Gain | None = None


class Current:
    """The rows of a shop as they were read, and their plan in the order that is known by now."""

    def __init__(self, rows: Open, known: Known, *, keeps: bool) -> None:
        self.rows, self._known, self._keeps = rows, known, keeps
        document = rows.document
        named = ((build.name, operation.key) for build in document.builds for operation in build.operations)
        self._steps = tuple(rows.operations[name].id for name in named)
        self._laid: tuple[Order, Plan] | None = None
        self._is_asked = not keeps

    def plan(self) -> tuple[Plan, Gain | None]:
        order, laid = self._known.order, self._laid
        searched = order.searched if order else None
        if searched is not None and searched.document is self.rows.document:
            return searched.plan, searched.gain
        if laid is None or laid[0] is not order:
            laid = self._laid = laid_at_once(self.rows.document, self._steps, order)
            if self._keeps:
                self._known.put(laid[0], instead_of=order)
        return laid[1], None

    def job(self, schedules: int) -> Job | None:
        """What is to be searched through for a better order, once."""
        is_asked, self._is_asked = self._is_asked, True
        if is_asked or not schedules or not self._steps or not self._known.is_new(self.rows.document):
            return None
        return Job(self._known, self.rows.document, self._steps, schedules, current_app.config["CLOCK"])


_kept: Kept[Current] = Kept()


def planning(db: Session, shop_id: int, now: datetime) -> Planning:
    """Return the plan of a shop at a moment, or of at most some minutes before where nothing was written since.

    A better one is looked for beside the request, and shown from the next one on.
    """
    asked: dict[tuple[int, datetime], Planning] = g.setdefault("plannings", {})
    if (shop_id, now) not in asked:
        current = _kept.of(db, shop_id, now, lambda: _made(db, shop_id, now))
        plan, gain = current.plan()
        # hours are laid as they are asked for, so each request has its own
        asked[shop_id, now] = Planning(plan, current.rows, Hours(current.rows.document.shop), gain)
        settings = current_app.config["SETTINGS"]
        assert isinstance(settings, Settings)
        job = current.job(settings.schedules)
        if job is not None:
            seeker.seek(job)
    return asked[shop_id, now]


def _made(db: Session, shop_id: int, now: datetime) -> Current:
    return Current(shop_document(db, shop_id, now), known_of(db, shop_id), keeps=only_reads(db))
