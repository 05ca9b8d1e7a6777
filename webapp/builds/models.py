"""A build, its operations with what they wait for, its parts and its sizes."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship, validates

from webapp.db.base import Base
from webapp.db.folding import fold
from webapp.products.models import Product
from webapp.shops.models import Equipment, Room, shop_key

# in the order a piece goes through them
STATUSES = ("enquiry", "quoted", "agreed", "in the making", "delivered", "aftercare", "closed", "lost")
PLANNED = ("agreed", "in the making", "delivered", "aftercare")  # their open operations are in the plan
PAST = ("delivered", "aftercare", "closed")  # what Look back shows
FOLDED = ("name", "client", "wood", "note")  # where a search looks


class Build(Base):
    __tablename__ = "build"
    __table_args__ = (
        Index("ix_build_shop_id_status", "shop_id", "status"),
        # the latest first, without a day last: in an index of PostgreSQL those come first
        Index("ix_build_shop_id_delivered_on", "shop_id", "delivered_on", "id", info={"only": "sqlite"}),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = mapped_column(ForeignKey("shop.id", ondelete="CASCADE"))
    name: Mapped[str]
    client: Mapped[str] = mapped_column(default="")
    contact: Mapped[str] = mapped_column(default="")
    wood: Mapped[str] = mapped_column(default="")
    note: Mapped[str] = mapped_column(default="")
    status: Mapped[str] = mapped_column(default="enquiry")
    due_on: Mapped[date | None]
    not_before: Mapped[date | None]
    weight: Mapped[int] = mapped_column(default=1)
    done_at: Mapped[list[Any] | None]  # [{"operation": key, "stage": name}]: stages reached before hand-over
    delivered_on: Mapped[date | None]
    made_by: Mapped[str] = mapped_column(default="")  # the method it was begun with
    created_at: Mapped[datetime]
    version: Mapped[int] = mapped_column()
    folded: Mapped[str] = mapped_column(default="")

    __mapper_args__ = {"version_id_col": version}

    operations: Mapped[list["Operation"]] = relationship(
        order_by="Operation.position", back_populates="build", cascade="all, delete-orphan", passive_deletes=True
    )
    parts: Mapped[list["Part"]] = relationship(
        order_by="Part.position", back_populates="build", cascade="all, delete-orphan", passive_deletes=True
    )
    sizes: Mapped[list["Size"]] = relationship(
        order_by="Size.position, Size.id", back_populates="build", cascade="all, delete-orphan", passive_deletes=True
    )

    @validates(*FOLDED)
    def _fold(self, key: str, value: str) -> str:
        words = {name: getattr(self, name) for name in FOLDED} | {key: value}
        self.folded = fold(" ".join(word for word in words.values() if word))
        return value


class Operation(Base):
    __tablename__ = "operation"
    __table_args__ = (
        UniqueConstraint("build_id", "key"),
        CheckConstraint("minutes > 0", "minutes"),
        CheckConstraint("count > 0", "count"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), index=True)
    key: Mapped[str]
    name: Mapped[str]
    group: Mapped[str] = mapped_column(default="")
    kind: Mapped[str]
    position: Mapped[int]
    minutes: Mapped[int]  # the likely estimate of hands-on work
    low: Mapped[int | None]
    high: Mapped[int | None]
    split: Mapped[bool | None]  # none: as its kind
    dusty: Mapped[bool | None]
    makers: Mapped[int] = mapped_column(default=1)
    count: Mapped[int] = mapped_column(default=1)
    room_id: Mapped[int | None] = mapped_column(ForeignKey("room.id", ondelete="SET NULL"))
    product_id: Mapped[int | None] = mapped_column(ForeignKey("product.id", ondelete="RESTRICT"))
    stages: Mapped[list[Any] | None]  # waits of its own: [{"name", "hours"}]
    tend: Mapped[list[Any] | None]  # none: the product's
    over_id: Mapped[int | None] = mapped_column(ForeignKey("operation.id", ondelete="SET NULL"))
    not_before: Mapped[datetime | None]
    pinned_at: Mapped[datetime | None]
    pinned_on: Mapped[date | None]
    assembly_minutes: Mapped[int | None]
    again_for_id: Mapped[int | None] = mapped_column(ForeignKey("operation.id", ondelete="SET NULL"))
    note: Mapped[str] = mapped_column(default="")
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    build: Mapped[Build] = relationship(back_populates="operations")
    room: Mapped[Room | None] = relationship()
    product: Mapped[Product | None] = relationship()
    over: Mapped["Operation | None"] = relationship(foreign_keys=[over_id], remote_side="Operation.id")
    again_for: Mapped["Operation | None"] = relationship(foreign_keys=[again_for_id], remote_side="Operation.id")
    after: Mapped[list["Link"]] = relationship(
        foreign_keys="Link.operation_id",
        back_populates="operation",
        order_by="Link.id",
        cascade="all, delete-orphan",
        passive_deletes=True,
    )
    holds: Mapped[list["Hold"]] = relationship(
        back_populates="operation", order_by="Hold.id", cascade="all, delete-orphan", passive_deletes=True
    )


class Link(Base):
    """What an operation waits for: the end of an earlier one, or a stage of its wait."""

    __tablename__ = "link"
    __table_args__ = (CheckConstraint("operation_id <> waits_for_id", "itself"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    operation_id: Mapped[int] = mapped_column(ForeignKey("operation.id", ondelete="CASCADE"), index=True)
    waits_for_id: Mapped[int] = mapped_column(ForeignKey("operation.id", ondelete="CASCADE"), index=True)
    stage: Mapped[str | None]
    lag_minutes: Mapped[int] = mapped_column(default=0)
    within_minutes: Mapped[int | None]

    operation: Mapped[Operation] = relationship(foreign_keys=[operation_id], back_populates="after")
    waits_for: Mapped[Operation] = relationship(foreign_keys=[waits_for_id])


class Hold(Base):
    """Equipment that an operation takes at its start and holds until a stage, or until its work ends."""

    __tablename__ = "hold"
    __table_args__ = (CheckConstraint("count > 0", "count"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    operation_id: Mapped[int] = mapped_column(ForeignKey("operation.id", ondelete="CASCADE"), index=True)
    equipment_id: Mapped[int] = mapped_column(ForeignKey("equipment.id", ondelete="RESTRICT"), index=True)
    count: Mapped[int]
    until: Mapped[str | None]

    operation: Mapped[Operation] = relationship(back_populates="holds")
    equipment: Mapped[Equipment] = relationship()


class Part(Base):
    """A piece of wood to be made; lengths are nanometres beside what was typed."""

    __tablename__ = "part"
    __table_args__ = (CheckConstraint("count > 0", "count"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), index=True)
    position: Mapped[int]
    name: Mapped[str]
    count: Mapped[int] = mapped_column(default=1)
    wood: Mapped[str] = mapped_column(default="")
    cut: Mapped[str] = mapped_column(default="")  # one of trade.movement.CUTS
    thickness_typed: Mapped[str] = mapped_column(default="")
    thickness_nm: Mapped[int | None] = mapped_column(BigInteger)
    width_typed: Mapped[str] = mapped_column(default="")
    width_nm: Mapped[int | None] = mapped_column(BigInteger)
    length_typed: Mapped[str] = mapped_column(default="")
    length_nm: Mapped[int | None] = mapped_column(BigInteger)
    note: Mapped[str] = mapped_column(default="")
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    build: Mapped[Build] = relationship(back_populates="parts")


class Size(Base):
    """A length taken on the piece: what it should be. What it measures is told by the journal, under its key."""

    __tablename__ = "size"
    __table_args__ = (UniqueConstraint("build_id", "key"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"), index=True)
    position: Mapped[int]
    key: Mapped[str]
    name: Mapped[str]
    part: Mapped[str] = mapped_column(default="")  # of which part, in words
    target_typed: Mapped[str]
    target_nm: Mapped[int] = mapped_column(BigInteger)
    tolerance_typed: Mapped[str] = mapped_column(default="")  # either way
    tolerance_nm: Mapped[int | None] = mapped_column(BigInteger)
    goes_into: Mapped[str] = mapped_column(default="")  # the key of the size that is its opening
    fit: Mapped[str] = mapped_column(default="")  # the kind of joint, of fit_classes.KINDS
    note: Mapped[str] = mapped_column(default="")
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    build: Mapped[Build] = relationship(back_populates="sizes")
