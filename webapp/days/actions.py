"""The plan of a shop, worked out from rows. Kept while nothing changes, never as truth."""

from dataclasses import dataclass
from datetime import datetime

from flask import g
from sqlalchemy.orm import Session

from webapp.days.document import Open, shop_document
from webapp.db.kept import Kept
from webapp.planning.hours import Hours
from webapp.planning.plan import plan
from webapp.planning.planned import Plan


@dataclass(frozen=True)
class Planning:
    """A plan, the rows behind its names, and the hours it was laid into."""

    plan: Plan
    rows: Open
    hours: Hours


_kept: Kept[tuple[Plan, Open]] = Kept()


def planning(db: Session, shop_id: int, now: datetime) -> Planning:
    """Return the plan of a shop at a moment, or of at most some minutes before where nothing was written since."""
    asked: dict[tuple[int, datetime], Planning] = g.setdefault("plannings", {})
    if (shop_id, now) not in asked:
        made, rows = _kept.of(db, shop_id, now, lambda: _made(db, shop_id, now))
        # hours are laid as they are asked for, so each request has its own
        asked[shop_id, now] = Planning(made, rows, Hours(rows.document.shop))
    return asked[shop_id, now]


def _made(db: Session, shop_id: int, now: datetime) -> tuple[Plan, Open]:
    rows = shop_document(db, shop_id, now)
    return plan(rows.document), rows
