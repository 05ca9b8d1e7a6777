"""The price of a build, what its consumables count as, and the parts it is paid in."""

from datetime import date
from decimal import Decimal

from sqlalchemy import BigInteger, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.builds.models import Build
from webapp.db.base import Base
from webapp.db.types import Exact
from webapp.shops.models import shop_key


class Terms(Base):
    """The agreed price and how consumables are counted: a percentage of materials, or a sum."""

    __tablename__ = "terms"

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), unique=True)
    price_minor: Mapped[int | None] = mapped_column(BigInteger)
    consumables_percent: Mapped[Decimal | None] = mapped_column(Exact)
    consumables_minor: Mapped[int | None] = mapped_column(BigInteger)
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    build: Mapped[Build] = relationship()


class Payment(Base):
    """One part of the price: a share, when it falls due in words, and when it came in."""

    __tablename__ = "payment"
    __table_args__ = (UniqueConstraint("build_id", "position"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), index=True)
    position: Mapped[int]
    name: Mapped[str]
    percent: Mapped[Decimal] = mapped_column(Exact)
    amount_minor: Mapped[int] = mapped_column(BigInteger)
    paid_on: Mapped[date | None]

    build: Mapped[Build] = relationship()
