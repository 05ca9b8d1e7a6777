"""A backup that was made. Of the server as a whole, not of a shop."""

from datetime import datetime

from sqlalchemy import BigInteger
from sqlalchemy.orm import Mapped, mapped_column

from webapp.db.base import Base

BUTTON = "button"
COMMAND = "command"


class Backup(Base):
    __tablename__ = "backup"

    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime] = mapped_column(index=True)  # when it was begun: it holds what was saved before
    by: Mapped[str] = mapped_column(default="")  # a name, which outlives the account; empty for the command
    way: Mapped[str]  # button, command
    size: Mapped[int] = mapped_column(BigInteger)  # bytes
    row_count: Mapped[int]
    photo_count: Mapped[int]
    missing_count: Mapped[int] = mapped_column(default=0)  # files of photos that the store did not have as they were
