"""What a form that was sent already led to: the same form sent twice is stored once and gets the same answer."""

from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from webapp.db.base import Base


class Receipt(Base):
    __tablename__ = "receipt"

    key: Mapped[str] = mapped_column(primary_key=True)
    shop_id: Mapped[int | None] = mapped_column(ForeignKey("shop.id", ondelete="CASCADE"), index=True)
    location: Mapped[str]
    at: Mapped[datetime]
