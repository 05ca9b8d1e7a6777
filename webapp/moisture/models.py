"""Readings of moisture, which are only added to, the meters they were made with, and the houses that pieces go to.

A reading is put right by a row of the same number and the next revision; one without a figure takes it back. What a
meter's table made of it is kept as it was then, for the table may be typed anew.
"""

from datetime import date, datetime
from typing import Any

from sqlalchemy import BigInteger, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, declared_attr, mapped_column, relationship

from webapp.builds.models import Part
from webapp.db.base import Base
from webapp.shops.models import Maker, shop_key


class Measured:
    """The columns of a reading, whatever was read. Moisture is in %, temperature in °C."""

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    number: Mapped[int]
    revision: Mapped[int]
    at: Mapped[datetime]
    arrived_at: Mapped[datetime]
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"), index=True)
    reading: Mapped[float | None]  # as the meter showed it
    temperature: Mapped[float | None]
    unit: Mapped[str] = mapped_column(default="C")  # as it was entered
    meter: Mapped[str] = mapped_column(default="")
    species: Mapped[str] = mapped_column(default="")  # as the meter's table names it
    moisture: Mapped[float | None]  # put right by the meter's table, all or nothing
    why_not: Mapped[str] = mapped_column(default="")
    place: Mapped[str] = mapped_column(default="")

    @declared_attr
    def maker(self) -> Mapped[Maker | None]:
        return relationship()

    @property
    def counts_as(self) -> float:
        """The figure to go by: as put right, else as read."""
        found = self.reading if self.moisture is None else self.moisture
        assert found is not None
        return found

    @property
    def is_taken_back(self) -> bool:
        return self.reading is None

    @property
    def version(self) -> int:
        return self.revision


class StockMoisture(Measured, Base):
    """The shop's own stock: boards that have lain in it long enough."""

    __tablename__ = "stock_moisture"
    __table_args__ = (UniqueConstraint("shop_id", "number", "revision"),)


class MaterialMoisture(Measured, Base):
    """The boards of one line of a bill."""

    __tablename__ = "material_moisture"
    __table_args__ = (UniqueConstraint("material_id", "number", "revision"),)

    material_id: Mapped[int] = mapped_column(ForeignKey("material.id", ondelete="CASCADE"))


class PartMoisture(Measured, Base):
    __tablename__ = "part_moisture"
    __table_args__ = (UniqueConstraint("part_id", "number", "revision"),)

    part_id: Mapped[int] = mapped_column(ForeignKey("part.id", ondelete="CASCADE"))


class Meter(Base):
    """A meter with the tables of its manual: lists of [temperature or species, what it shows or none, what to add]."""

    __tablename__ = "meter"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    unit: Mapped[str]  # of the temperatures in its table
    by_temperature: Mapped[list[Any]]
    by_species: Mapped[list[Any]]
    species_first: Mapped[bool] = mapped_column(default=False)
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}


class House(Base):
    """The air a piece goes to, as the moisture wood takes in it; without a build, what is usual in this shop."""

    __tablename__ = "house"
    __table_args__ = (UniqueConstraint("build_id"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int | None] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"))
    place: Mapped[str]
    low: Mapped[float]  # % moisture of wood there, at the dry and the damp end of the year
    high: Mapped[float]
    source: Mapped[str] = mapped_column(default="")
    dry_temperature: Mapped[float | None]  # °C and % of the air, where it was measured
    dry_humidity: Mapped[float | None]
    damp_temperature: Mapped[float | None]
    damp_humidity: Mapped[float | None]
    near: Mapped[float] = mapped_column(default=2.0)  # points from the shop's own stock that still do
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}


# what a part can need room for, and which lengths are asked for each
LEEWAYS = {"slot": ("distance", "screw"), "panel": ("opening", "groove", "hold"), "inset": ("opening", "clear")}


class Leeway(Base):
    """What a part needs room for: a screw through it, a groove or an opening it stands in. Lengths as typed."""

    __tablename__ = "leeway"

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    part_id: Mapped[int] = mapped_column(ForeignKey("part.id", ondelete="CASCADE"), index=True)
    kind: Mapped[str]  # one of LEEWAYS
    distance_typed: Mapped[str] = mapped_column(default="")
    screw_typed: Mapped[str] = mapped_column(default="")
    opening_typed: Mapped[str] = mapped_column(default="")
    groove_typed: Mapped[str] = mapped_column(default="")
    hold_typed: Mapped[str] = mapped_column(default="")
    clear_typed: Mapped[str] = mapped_column(default="")


class OwnWood(Base):
    """A wood that is not in the handbook's table, with figures from a source of the maker's own."""

    __tablename__ = "own_wood"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    radial: Mapped[str]  # share of the width for 1 % moisture, as typed: five places and more
    tangential: Mapped[str]
    source: Mapped[str]


class Watch(Base):
    """A width or joint that is looked at each season after delivery: what it measured then, at which moisture."""

    __tablename__ = "watch"

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    part_id: Mapped[int] = mapped_column(ForeignKey("part.id", ondelete="CASCADE"), index=True)
    name: Mapped[str]
    width_typed: Mapped[str] = mapped_column(default="")
    width_nm: Mapped[int | None] = mapped_column(BigInteger)
    moisture: Mapped[float | None]  # % of the wood when that was measured
    ended_on: Mapped[date | None]

    part: Mapped[Part] = relationship()
    looks: Mapped[list["Look"]] = relationship(order_by="Look.at, Look.id", passive_deletes=True)


class Look(Base):
    """What was found at a watch point. Rows are only added; a later one of its number takes it back."""

    __tablename__ = "look"
    __table_args__ = (UniqueConstraint("watch_id", "number", "revision"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    watch_id: Mapped[int] = mapped_column(ForeignKey("watch.id", ondelete="CASCADE"))
    number: Mapped[int]
    revision: Mapped[int]
    at: Mapped[datetime]
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"), index=True)
    width_typed: Mapped[str] = mapped_column(default="")
    width_nm: Mapped[int | None] = mapped_column(BigInteger)
    note: Mapped[str] = mapped_column(default="")
    is_taken_back: Mapped[bool] = mapped_column(default=False)
