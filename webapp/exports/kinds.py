"""What the file of a shop or a build is made of: its lists, each the rows of one table, and what stays behind and why.

Columns are not named here: a row is carried with all of them. A reference to another row becomes the name, key or
number which that row has in the file; no id of this server is in it. A column that is not to travel stands in LEFT_OUT.
"""

from dataclasses import dataclass
from functools import cache, cached_property

from sqlalchemy import Column, Table

from webapp.builds.models import Build, Hold, Link, Operation, Part, Size
from webapp.costs.models import Payment, Terms
from webapp.db.base import Base
from webapp.journal.models import Entry
from webapp.moisture.models import (
    House,
    Leeway,
    Look,
    MaterialMoisture,
    Meter,
    OwnWood,
    PartMoisture,
    StockMoisture,
    Watch,
)
from webapp.photos.models import Photo
from webapp.products.models import Figures, Product, Tin
from webapp.shops.models import Closed, Equipment, Extra, Maker, Opening, Rate, Reading, Room, Shop
from webapp.stock.models import Material

SHOP, BUILD = "shop", "build"
FORMATS = {"benchtide shop": SHOP, "benchtide build": BUILD}
NUMBER = 2  # of the format; another as soon as an older Benchtide could not read it


@dataclass(frozen=True)
class Kind:
    """One list of the file.

    `inside` is the column that names the row it stands in, of the list `within`; with `loose`, rows that name none
    stand in a list at the top. `own` are columns of the shop that has them, left behind when a build goes to another.
    """

    name: str
    model: type[Base]
    within: str = ""
    inside: str = ""
    loose: bool = False
    order: tuple[str, ...] = ("id",)
    own: tuple[str, ...] = ()

    @cached_property
    def table(self) -> Table:
        table = self.model.__table__
        assert isinstance(table, Table)
        return table

    @cached_property
    def columns(self) -> list[Column[object]]:
        """The columns that are carried, references among them."""
        return [column for column in self.table.columns if place_of(column, self) is None]


PLACED = ("position", "id")

# in an order in which each row comes after those it names
KINDS = (
    Kind("shop", Shop),
    Kind("makers", Maker, own=("role", "left_on")),
    Kind("hours", Opening, "makers", "maker_id", loose=True),
    Kind("rates", Rate, "makers", "maker_id"),
    Kind("closed", Closed),
    Kind("extra", Extra),
    Kind("equipment", Equipment),
    Kind("rooms", Room),
    Kind("readings", Reading),
    Kind("meters", Meter),
    Kind("own_woods", OwnWood),
    Kind("stock_moisture", StockMoisture),
    Kind("products", Product, own=("retired",)),
    Kind("figures", Figures, "products", "product_id", order=("number",), own=("why", "at", "maker_id")),
    Kind("tins", Tin),
    Kind("builds", Build),
    Kind("houses", House, "builds", "build_id", loose=True),
    Kind("operations", Operation, "builds", "build_id", order=PLACED),
    Kind("after", Link, "operations", "operation_id"),
    Kind("holds", Hold, "operations", "operation_id"),
    Kind("parts", Part, "builds", "build_id", order=PLACED),
    Kind("part_moisture", PartMoisture, "parts", "part_id"),
    Kind("leeways", Leeway, "parts", "part_id"),
    Kind("watches", Watch, "parts", "part_id"),
    Kind("looks", Look, "watches", "watch_id"),
    Kind("sizes", Size, "builds", "build_id", order=PLACED),
    Kind("photos", Photo, "builds", "build_id", loose=True),
    Kind("materials", Material, "builds", "build_id", loose=True),
    Kind("material_moisture", MaterialMoisture, "materials", "material_id"),
    Kind("terms", Terms, "builds", "build_id"),
    Kind("payments", Payment, "builds", "build_id", order=("position",)),
    Kind("journal", Entry, "builds", "build_id", loose=True),
)
BY_NAME = {kind.name: kind for kind in KINDS}
BY_TABLE = {kind.table.name: kind for kind in KINDS}
SHOP_LISTS = tuple(kind.name for kind in KINDS if kind.name != SHOP and (kind.loose or not kind.within))
BROUGHT = ("makers", "equipment", "rooms", "products")  # what a build names of its shop
BUILD_LISTS = (*BROUGHT, "builds", "photos", "journal")  # of the shop's own photos and lines: receipts and theirs
SINGLE = frozenset({"terms"})  # at most one, so no list

# of a row that others name: the column they name it by in the file
NAMED_BY = {"maker": "name", "room": "name", "equipment": "name", "product": "name", "operation": "key"}

ACCOUNT = "accounts, passwords and sign-ins stay on their server"
COUNTED = "counts the edits of one server, so that two at once are noticed"
SENSOR = "opens a door of one server: where the shop goes, each sensor gets a token of its own; its readings travel"
DERIVED = "follows from the words of the row"

# a photo's version is in the ids of its later lines, and travels
VERSIONED = {kind.table.name for kind in KINDS if kind.model.__mapper__.version_id_col is not None} - {"photo"}

LEFT_OUT = {
    "person": ACCOUNT,
    "sign_in": ACCOUNT,
    "login_try": ACCOUNT,
    "sensor": SENSOR,
    "reading.sensor_id": SENSOR,
    "receipt": "forms sent to one server",
    "mark": "the last commit on one server",
    "backup": "what one server did",
    "maker.person_id": ACCOUNT,
    "shop.is_invented": "a shop that somebody puts in is theirs, and not to be removed by one button",
    "photo.sha256": "of the file as it was sent, which stays; the picture that travels is named by its own hash",
    "build.folded": DERIVED,
    "entry.folded": DERIVED,
    **{f"{table}.version": COUNTED for table in VERSIONED},
}

ID, OF_THE_SHOP, BY_ITS_PLACE = "an id of this server", "the shop it belongs to", "said by where it stands"


def place_of(column: Column[object], kind: Kind) -> str | None:
    """Return why a column is not among the values of a row, or none where it is."""
    if column.primary_key:
        return ID
    if column.name == "shop_id":
        return OF_THE_SHOP
    if column.name == kind.inside:
        return BY_ITS_PLACE
    return LEFT_OUT.get(f"{column.table.name}.{column.name}")


@cache
def target(column: Column[object]) -> str | None:
    """Return the table a column refers to, or none."""
    return next((key.column.table.name for key in column.foreign_keys), None)


@cache
def word(column: Column[object]) -> str:
    """Return what a column is called in the file."""
    if target(column):
        return column.name.removesuffix("_id")
    return WORDS.get(f"{column.table.name}.{column.name}", column.name)


WORDS = {"photo.shown_sha256": "picture"}


@cache
def inner(kind: Kind) -> tuple[Kind, ...]:
    """Return the lists that stand in a row of this kind."""
    return tuple(other for other in KINDS if other.within == kind.name)
