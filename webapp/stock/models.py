"""One line of a bill. The yard's own quantity counts; a computed one only stands beside it."""

from datetime import date
from decimal import Decimal

from sqlalchemy import BigInteger, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.builds.models import Build
from webapp.db.base import Base
from webapp.db.types import Exact
from webapp.photos.models import Photo
from webapp.shops.models import shop_key

KINDS = ("wood", "hardware", "glue and finish", "sheet goods", "other")


class Material(Base):
    __tablename__ = "material"
    __table_args__ = (
        Index("ix_material_shop_id_bought_on", "shop_id", "bought_on", "id"),
        Index("ix_material_build_id_bought_on", "build_id", "shop_id", "bought_on", "id"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int | None] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"))
    kind: Mapped[str]
    name: Mapped[str]
    quantity: Mapped[Decimal] = mapped_column(Exact)
    unit: Mapped[str]
    unit_price: Mapped[Decimal] = mapped_column(Exact)  # major units of the shop's currency, four places
    total_minor: Mapped[int] = mapped_column(BigInteger)  # rounded half up, once
    supplier: Mapped[str] = mapped_column(default="")
    bought_on: Mapped[date | None]
    receipt_id: Mapped[int | None] = mapped_column(ForeignKey("photo.id", ondelete="SET NULL"))
    thickness_typed: Mapped[str] = mapped_column(default="")
    width_typed: Mapped[str] = mapped_column(default="")
    length_typed: Mapped[str] = mapped_column(default="")
    pieces: Mapped[int | None]
    note: Mapped[str] = mapped_column(default="")
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    build: Mapped[Build | None] = relationship()
    receipt: Mapped[Photo | None] = relationship()
