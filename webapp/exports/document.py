"""The shop document inside a file: what `benchtide plan` reads when cut out. It follows from the rest of the file.

It has no clock: its now is the last moment that the record tells of, so the same shop always gives the same document.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import RowMapping
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.builds.steps import pieces_of
from webapp.days.document import document_of, open_builds
from webapp.exports.rows import Rows
from webapp.planning import network
from webapp.planning.export import export
from webapp.shops.document import planning_shop
from webapp.shops.models import Shop

# a build goes without its shop: in the document it stands in one of usual hours
USUAL = network.Shop(
    time_zone="UTC",
    hours=(network.Opening((0, 1, 2, 3, 4), 8 * 60, 17 * 60),),
    climate=network.Climate(20.0, 16.0, 7 * 60, 22 * 60, 50.0),
)
TELLS = {"journal": ("at", "arrived_at"), "readings": ("at",), "photos": ("at",), "builds": ("created_at",)}


def of_shop(db: Session, shop: Shop, rows: Rows) -> dict[str, Any]:
    """Return the document of a shop and its open builds."""
    found = document_of(db, shop, open_builds(db, shop.id), last_moment(rows, shop.created_at)).document
    return export(replace(found, shop=_in_order(found.shop)))


def of_build(db: Session, shop: Shop, build: Build, rows: Rows) -> dict[str, Any]:
    """Return the document of one build: its makers, rooms and equipment, in a shop of usual hours."""
    builds = [piece for piece in pieces_of(db, Build.id == build.id) if piece.steps]
    found = document_of(db, shop, builds, last_moment(rows, build.created_at)).document
    return export(replace(found, shop=_in_order(_travelling(planning_shop(shop), rows))))


def last_moment(rows: Rows, first: datetime) -> datetime:
    """Return the last moment that rows tell of, or else the first."""
    told = (row[column] for name, columns in TELLS.items() for row in rows[name] for column in columns)
    return max(told, default=first)


def _travelling(shop: network.Shop, rows: Rows) -> network.Shop:
    def of(name: str) -> set[str]:
        return {row["name"] for row in rows[name]}

    return replace(
        USUAL,
        makers=tuple(_maker(row, rows["hours"]) for row in rows["makers"]) or (network.Maker("nobody"),),
        equipment=tuple(one for one in shop.equipment if one.name in of("equipment")),
        rooms=tuple(one for one in shop.rooms if one.name in of("rooms")),
    )


def _maker(row: RowMapping, hours: Iterable[RowMapping]) -> network.Maker:
    """A maker with hours of their own, also one who has left the shop since."""
    own = [(one["weekday"], one["opens"], one["closes"]) for one in hours if one["maker_id"] == row["id"]]
    return network.Maker(row["name"], tuple(network.Opening((day,), *open_) for day, *open_ in sorted(own)) or None)


def _in_order(shop: network.Shop) -> network.Shop:
    """Put what a database orders in its own way into one order."""
    return replace(
        shop,
        equipment=tuple(sorted(shop.equipment, key=lambda one: one.name)),
        closed=tuple(sorted(shop.closed, key=lambda one: (one.first, one.last, one.note or ""))),
        extra=tuple(sorted(shop.extra, key=lambda one: (one.day, one.open, one.close))),
    )
