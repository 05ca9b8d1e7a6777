"""Things that must be done by one at a time although no row stands for them yet."""

from sqlalchemy import text
from sqlalchemy.orm import Session

# numbers of our own, among all that may be locked on a database server
MIGRATING = 20_261_125
FIRST_ACCOUNT = 20_261_126


def come_alone(db: Session, what: int) -> None:
    """Wait until no other transaction does this; let the next in at the end of this one.

    SQLite lets one transaction write at a time anyway.
    """
    if db.get_bind().dialect.name == "postgresql":
        db.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": what})
