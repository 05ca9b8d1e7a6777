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


_kept: Kept[Planning] = Kept()


def planning(db: Session, shop_id: int, now: datetime) -> Planning:
    """Return the plan of a shop at a moment, or of at most some minutes before where nothing was written since."""
    asked: dict[tuple[int, datetime], Planning] = g.setdefault("plannings", {})
    if (shop_id, now) not in asked:
        asked[shop_id, now] = _kept.of(db, shop_id, now, lambda: _made(db, shop_id, now))
    return asked[shop_id, now]


def _made(db: Session, shop_id: int, now: datetime) -> Planning:
    rows = shop_document(db, shop_id, now)
    return Planning(plan(rows.document), rows, Hours(rows.document.shop))
