"""One line of the journal. Its id is made by whoever writes it, so the same line sent twice is one line."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, literal_column, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.builds.models import Build, Operation
from webapp.db.base import Base
from webapp.shops.models import Maker

MENDS, SPEAKS = text("corrects IS NOT NULL"), text("folded != ''")


class Entry(Base):
    __tablename__ = "entry"
    __table_args__ = (
        Index("ix_entry_shop_id_at", "shop_id", "at", "arrived_at"),
        Index("ix_entry_build_id_at", "build_id", "at", "arrived_at"),
        Index("ix_entry_mended", "shop_id", "arrived_at", sqlite_where=MENDS, postgresql_where=MENDS),
        # with the words themselves, so that they are looked through without the rows; on PostgreSQL they are too long
        Index("ix_entry_words", "shop_id", "at", "folded", "build_id", sqlite_where=SPEAKS, info={"only": "sqlite"}),
        Index("ix_entry_speaks", "shop_id", "at", postgresql_where=SPEAKS, info={"only": "postgresql"}),
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = mapped_column(ForeignKey("shop.id", ondelete="CASCADE"))
    build_id: Mapped[int | None] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"))
    operation_id: Mapped[int | None] = mapped_column(ForeignKey("operation.id", ondelete="CASCADE"), index=True)
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"), index=True)
    kind: Mapped[str]
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    corrects: Mapped[str | None] = mapped_column(index=True)  # no foreign key: a correction may arrive first
    data: Mapped[dict[str, Any]]
    folded: Mapped[str] = mapped_column(default="")  # the words of its note, for search

    maker: Mapped[Maker | None] = relationship()
    build: Mapped[Build | None] = relationship()
    operation: Mapped[Operation | None] = relationship()


HAS_WORDS = Entry.folded != literal_column("''")  # so said, that the index of lines with words is used
