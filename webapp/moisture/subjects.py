"""What is read: the shop's own stock, the boards of a bill, or a part of a piece."""

from dataclasses import dataclass
from typing import Any

from flask import url_for
from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Part
from webapp.moisture.models import MaterialMoisture, PartMoisture, StockMoisture
from webapp.moisture.revisions import folded, standing
from webapp.stock.models import Material
from webapp.web.guard import LARGEST_KEY, mine, visitor
from webapp.web.paging import Page, asked

MOST = 50  # of a thing that is read for years, the shop's own stock: so many are drawn and count, and are a page
Read = StockMoisture | MaterialMoisture | PartMoisture


@dataclass(frozen=True)
class Subject:
    """One thing that is read over time; `place` are the ids in its address and in its rows."""

    table: type[Read]
    place: dict[str, Any]
    name: str
    about: str = ""
    build: Build | None = None

    @property
    def is_stock(self) -> bool:
        return not self.place

    def url(self, endpoint: str, **more: Any) -> str:
        return url_for(f"moisture.{endpoint}", **self.place, **more)

    def rows(self) -> Select[Any]:
        """Return all rows of its readings, put right or not, in no order."""
        table: Any = self.table
        mine_only = (getattr(table, name) == key for name, key in self.place.items())
        return select(table).where(table.shop_id == visitor().shop.id, *mine_only)

    def last_number(self, db: Session) -> int:
        """Return the number of the reading noted last, 0 before the first."""
        return db.scalar(self.rows().with_only_columns(func.max(self.table.number))) or 0

    def reading(self, db: Session, number: int) -> Any:
        """Return the row that counts of a reading; none where it was taken back, or never was."""
        if number > LARGEST_KEY:
            return None
        wanted = self.rows().where(self.table.number == number).order_by(self.table.revision.desc())
        found = db.scalar(wanted.limit(1))
        return found if found is not None and not found.is_taken_back else None


STOCK = Subject(StockMoisture, {}, "The shop’s own stock")


def subject_of(material_id: int | None, part_id: int | None) -> Subject:
    """Return what an address is about, or answer 404."""
    if material_id is not None:
        return of_material(mine(Material, material_id))
    if part_id is not None:
        return of_part(mine(Part, part_id))
    return STOCK


def of_material(row: Material) -> Subject:
    about = f"for {row.build.name}" if row.build else "for the shelf"
    return Subject(MaterialMoisture, {"material_id": row.id}, row.name, about, row.build)


def of_part(row: Part) -> Subject:
    return Subject(PartMoisture, {"part_id": row.id}, row.name, f"of {row.build.name}", row.build)


def stock_now(db: Session) -> StockMoisture | None:
    """Return the newest reading of the shop's own stock."""
    table = StockMoisture
    columns = table.id, table.number, table.revision, table.at, table.reading.is_(None).label("is_taken_back")
    found = standing(db.execute(_newest(db, STOCK).with_only_columns(*columns)))
    return db.get(table, found[-1].id) if found else None


def latest(db: Session, subject: Subject) -> list[Any]:
    """Return the rows of the newest readings of a thing, put right or not."""
    return list(db.scalars(_newest(db, subject)))


@dataclass(frozen=True)
class Listed(Page[list[Any]]):
    """A page of the readings of a thing, newest first, each with what stood before; `count` is how many there are."""

    count: int

    @property
    def says(self) -> str:
        """Which of them these are; nothing where they are all there are."""
        if not self.rows:
            return ""
        if self.number == 1:
            return f"the newest {MOST} of {self.count}" if self.more else ""
        return f"{(self.number - 1) * MOST + 1} to {min(self.number * MOST, self.count)} of {self.count}, newest first"


def listed(db: Session, subject: Subject) -> Listed:
    """Return the page of the readings of a thing that the address asks for."""
    last, page = subject.last_number(db), asked()
    newest = last - (page - 1) * MOST
    rows = subject.rows().where(subject.table.number > newest - MOST, subject.table.number <= newest)
    return Listed(folded(db.scalars(rows))[::-1], page, more=newest > MOST, count=last)


def _newest(db: Session, subject: Subject) -> Select[Any]:
    """Ask for the last numbers, by the index of each thing's: by ids a database would read all rows of the shop."""
    return subject.rows().where(subject.table.number > subject.last_number(db) - MOST)
