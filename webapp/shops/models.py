"""A shop and what belongs to the place itself. Temperatures are °C, times of day are minutes after midnight."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from webapp.db.base import Base

OWNER = "owner"
HELPER = "helper"


def shop_key() -> Mapped[int]:
    """Return the column that says which shop a row belongs to."""
    return mapped_column(ForeignKey("shop.id", ondelete="CASCADE"), index=True)


class Shop(Base):
    __tablename__ = "shop"

    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    time_zone: Mapped[str]
    currency: Mapped[str]  # ISO 4217
    length_unit: Mapped[str]  # in, mm
    temperature_unit: Mapped[str]  # C, F
    least_minutes: Mapped[int] = mapped_column(default=0)
    climate_day: Mapped[float] = mapped_column(default=20.0)
    climate_night: Mapped[float] = mapped_column(default=16.0)
    day_from: Mapped[int] = mapped_column(default=7 * 60)
    day_to: Mapped[int] = mapped_column(default=22 * 60)
    humidity: Mapped[float] = mapped_column(default=50.0)
    is_invented: Mapped[bool] = mapped_column(default=False)  # the shop to look round in
    created_at: Mapped[datetime]
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    makers: Mapped[list["Maker"]] = relationship(order_by="Maker.id", passive_deletes=True)
    openings: Mapped[list["Opening"]] = relationship(
        order_by="(Opening.weekday, Opening.opens)",
        primaryjoin="and_(Shop.id == Opening.shop_id, Opening.maker_id.is_(None))",
        viewonly=True,
    )
    closed: Mapped[list["Closed"]] = relationship(order_by="Closed.first_on", passive_deletes=True)
    extra: Mapped[list["Extra"]] = relationship(order_by="(Extra.on_day, Extra.opens)", passive_deletes=True)
    equipment: Mapped[list["Equipment"]] = relationship(order_by="Equipment.name", passive_deletes=True)
    rooms: Mapped[list["Room"]] = relationship(order_by="Room.id", passive_deletes=True)

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)


class Maker(Base):
    """Somebody who works in the shop; with a person, somebody who may sign in to it."""

    __tablename__ = "maker"
    __table_args__ = (UniqueConstraint("shop_id", "person_id"), UniqueConstraint("shop_id", "name"))

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id", ondelete="SET NULL"), index=True)
    name: Mapped[str]
    role: Mapped[str] = mapped_column(default=OWNER)
    left_on: Mapped[date | None]

    openings: Mapped[list["Opening"]] = relationship(
        order_by="(Opening.weekday, Opening.opens)", passive_deletes=True, back_populates="maker"
    )
    rates: Mapped[list["Rate"]] = relationship(
        order_by="Rate.from_on", passive_deletes=True, cascade="all, delete-orphan"
    )

    def rate_on(self, day: date) -> int | None:
        """Return what an hour of this maker cost on a day, in minor units; nothing before the first rate."""
        return next((rate.hour_minor for rate in reversed(self.rates) if rate.from_on <= day), None)


class Rate(Base):
    """What an hour of a maker costs, from a day on, in minor units of the shop's currency."""

    __tablename__ = "rate"
    __table_args__ = (UniqueConstraint("maker_id", "from_on"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    maker_id: Mapped[int] = mapped_column(ForeignKey("maker.id", ondelete="CASCADE"), index=True)
    from_on: Mapped[date]
    hour_minor: Mapped[int] = mapped_column(BigInteger)


class Opening(Base):
    """A stretch of open hours on one day of the week (0 is Monday); of the shop, or of one maker instead of it."""

    __tablename__ = "opening"
    __table_args__ = (
        CheckConstraint("0 <= weekday AND weekday <= 6", "weekday"),
        CheckConstraint("0 <= opens AND opens < closes AND closes <= 1440", "hours"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="CASCADE"), index=True)
    weekday: Mapped[int]
    opens: Mapped[int]
    closes: Mapped[int]

    maker: Mapped[Maker | None] = relationship(back_populates="openings")


class Closed(Base):
    __tablename__ = "closed"
    __table_args__ = (CheckConstraint("first_on <= last_on", "days"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    first_on: Mapped[date]
    last_on: Mapped[date]
    note: Mapped[str] = mapped_column(default="")


class Extra(Base):
    __tablename__ = "extra"
    __table_args__ = (CheckConstraint("0 <= opens AND opens < closes AND closes <= 1440", "hours"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    on_day: Mapped[date]
    opens: Mapped[int]
    closes: Mapped[int]


class Equipment(Base):
    """Countable things that a wait holds: clamps, press, forms."""

    __tablename__ = "equipment"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    count: Mapped[int]


class Room(Base):
    """A room of the shop; what it lacks of a climate is the shop's."""

    __tablename__ = "room"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    drying_places: Mapped[int | None]
    settle_minutes: Mapped[int] = mapped_column(default=0)
    climate_day: Mapped[float | None]
    climate_night: Mapped[float | None]
    humidity: Mapped[float | None]


class Sensor(Base):
    """What measures the air by itself and sends it with a token, of which only the hash is kept."""

    __tablename__ = "sensor"
    __table_args__ = (UniqueConstraint("shop_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    name: Mapped[str]
    room_id: Mapped[int | None] = mapped_column(ForeignKey("room.id"))
    token_hash: Mapped[str]
    made_at: Mapped[datetime]
    heard_at: Mapped[datetime | None]


class Reading(Base):
    """Temperature and humidity measured at a time and place."""

    __tablename__ = "reading"
    __table_args__ = (
        Index("ix_reading_shop_id_at", "shop_id", "at"),
        Index("ix_reading_sensor_id_at", "sensor_id", "at"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = mapped_column(ForeignKey("shop.id", ondelete="CASCADE"))
    room_id: Mapped[int | None] = mapped_column(ForeignKey("room.id", ondelete="CASCADE"))
    at: Mapped[datetime]
    temperature: Mapped[float | None]
    unit: Mapped[str] = mapped_column(default="C")  # as it was entered; the figure itself is °C
    humidity: Mapped[float | None]
    counts: Mapped[bool | None]  # none: says nothing of it, and what was said before goes on
    sensor_id: Mapped[int | None] = mapped_column(ForeignKey("sensor.id", ondelete="SET NULL"))  # none: by hand
