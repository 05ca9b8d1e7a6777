"""Taking somebody who has an account on this server into one more shop.

They open a page that shows them a code; whoever owns the shop types their name and that code. So nobody is taken into a
shop unasked, and an owner who tries names learns of none: a wrong name and a wrong code get the same answer.
"""

import hmac
from datetime import datetime, timedelta

from flask import current_app
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from webapp.people.actions import person_named
from webapp.people.models import Person
from webapp.shops.models import Maker

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # 5 bits each, none that is taken for another
READ_AS = str.maketrans("OIL", "011")
LENGTH = 10
LASTS = timedelta(minutes=30)  # and at most as long again


def code_of(db: Session, person_id: int, now: datetime) -> str:
    """Return the code by which somebody may be taken into a shop now, or in a moment; once it served it is another."""
    shops = db.scalar(select(func.count()).where(Maker.person_id == person_id))
    told = f"join {person_id} {shops} {int(now.timestamp() // LASTS.total_seconds())}"
    digest = hmac.digest(str(current_app.config["SECRET_KEY"]).encode(), told.encode(), "sha256")
    number = int.from_bytes(digest[:8], "big")
    return "".join(LETTERS[number >> 5 * place & 31] for place in range(LENGTH))


def person_by(db: Session, name: str, typed: str, now: datetime) -> Person | None:
    """Return who has this name and was shown this code in the last half hour, or nobody."""
    person = person_named(db, name)
    code = "".join(sign for sign in typed.upper().translate(READ_AS) if sign in LETTERS)
    shown = [code_of(db, person.id if person else 0, at) for at in (now, now - LASTS)]
    return person if any([hmac.compare_digest(code, one) for one in shown]) else None  # noqa: C419 - both in any case
