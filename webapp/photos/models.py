"""A photo; its files lie under the hash of what was sent (webapp/web/files.py)."""

from datetime import datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.builds.models import Build, Operation
from webapp.db.base import Base
from webapp.shops.models import Maker, shop_key


class Photo(Base):
    __tablename__ = "photo"
    __table_args__ = (UniqueConstraint("shop_id", "build_id", "operation_id", "sha256"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int | None] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), index=True)
    operation_id: Mapped[int | None] = mapped_column(ForeignKey("operation.id", ondelete="SET NULL"), index=True)
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"))
    sha256: Mapped[str] = mapped_column(index=True)
    sent_name: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    taken_at: Mapped[datetime | None]  # what the camera says
    at: Mapped[datetime] = mapped_column(index=True)  # where it stands in the journal
    caption: Mapped[str] = mapped_column(default="")
    is_cover: Mapped[bool] = mapped_column(default=False)
    removed_at: Mapped[datetime | None]

    maker: Mapped[Maker | None] = relationship()
    build: Mapped[Build | None] = relationship()
    operation: Mapped[Operation | None] = relationship()
