"""A mark that every commit makes anew: what was worked out of the database may be kept while its mark stands.

A random number, so that no two states can have the same: not after a restore, and not on another server.
"""

from secrets import randbits

from sqlalchemy import BigInteger, insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Mapped, Session, mapped_column

from webapp.db.base import Base

BITS = 62


class Mark(Base):
    """One row, from the first commit on."""

    __tablename__ = "mark"

    id: Mapped[int] = mapped_column(primary_key=True)
    value: Mapped[int] = mapped_column(BigInteger)


def renew(db: Session) -> None:
    """Make the mark anew, as the last thing before a commit: whoever else writes waits for this row."""
    db.flush()
    value = randbits(BITS)
    if not db.connection().execute(update(Mark).values(value=value)).rowcount:
        _first(db, value)


def _first(db: Session, value: int) -> None:
    try:
        with db.begin_nested():
            db.connection().execute(insert(Mark).values(id=1, value=value))
    except IntegrityError:  # somebody else's first commit was quicker
        renew(db)


def mark_of(db: Session) -> int | None:
    """Return the mark of what a session reads; None where nothing was ever written."""
    return db.scalar(select(Mark.value))
