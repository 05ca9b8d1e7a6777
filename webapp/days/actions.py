"""The plan of a shop, worked out from rows. Kept for the length of a request, never as truth."""

from dataclasses import dataclass
from datetime import datetime

from flask import g
from sqlalchemy.orm import Session

from webapp.days.document import Open, shop_document
from webapp.planning.hours import Hours
from webapp.planning.plan import plan
from webapp.planning.planned import Plan


@dataclass(frozen=True)
class Planning:
    """A plan, the rows behind its names, and the hours it was laid into."""

    plan: Plan
    rows: Open
    hours: Hours


def planning(db: Session, shop_id: int, now: datetime) -> Planning:
    """Return the plan of a shop at a moment; asked for twice in one request it is worked out once."""
    kept: dict[tuple[int, datetime], Planning] = g.setdefault("plannings", {})
    if (shop_id, now) not in kept:
        rows = shop_document(db, shop_id, now)
        kept[shop_id, now] = Planning(plan(rows.document), rows, Hours(rows.document.shop))
    return kept[shop_id, now]
