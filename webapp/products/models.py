"""A product, its figures, a new version for each change: a wait that has begun keeps those it began with; its tins."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import ForeignKey, UniqueConstraint, func, select
from sqlalchemy.orm import Mapped, aliased, mapped_column, relationship

from webapp.db.base import Base
from webapp.shops.models import shop_key
from webapp.trade.products.figures import FINISH, GLUE

__all__ = ["FINISH", "GLUE", "NEWEST", "Figures", "Product", "Tin"]


class Product(Base):
    __tablename__ = "product"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    family: Mapped[str]
    use: Mapped[str]  # glue, finish
    retired: Mapped[bool] = mapped_column(default=False)
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    figures: Mapped[list["Figures"]] = relationship(
        order_by="Figures.number", back_populates="product", cascade="all, delete-orphan", passive_deletes=True
    )

    @property
    def current(self) -> "Figures":
        return self.figures[-1]


class Figures(Base):
    """One version of a product's figures: `data` has the keys of a product in the shop document, in °C."""

    __tablename__ = "figures"
    __table_args__ = (UniqueConstraint("product_id", "number"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    product_id: Mapped[int] = mapped_column(ForeignKey("product.id", ondelete="CASCADE"), index=True)
    number: Mapped[int]
    data: Mapped[dict[str, Any]]
    source: Mapped[str]
    source_on: Mapped[date | None]
    why: Mapped[str] = mapped_column(default="")  # why they were changed
    at: Mapped[datetime]
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"))

    product: Mapped[Product] = relationship(back_populates="figures")


# the number of a product's newest figures
_EACH = aliased(Figures)
NEWEST = select(func.max(_EACH.number)).where(_EACH.product_id == Product.id).scalar_subquery()


class Tin(Base):
    """One tin, bottle or mix of a product: what stands on it and when it was opened."""

    __tablename__ = "tin"

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    product_id: Mapped[int] = mapped_column(ForeignKey("product.id", ondelete="CASCADE"), index=True)
    batch: Mapped[str] = mapped_column(default="")
    made_on: Mapped[date | None]
    opened_on: Mapped[date | None]
    use_by: Mapped[date | None]  # the last day it is good for
    mixed_at: Mapped[datetime | None]
    frozen: Mapped[bool] = mapped_column(default=False)  # it has been
    gone_on: Mapped[date | None]  # used up or thrown away
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}
