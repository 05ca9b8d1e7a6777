"""What must hold for every row whatever was sent: text that can be read, figures that can be, shops kept apart."""

import json
import math
import unicodedata
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from flask import Flask
from jsonschema import Draft202012Validator
from sqlalchemy import Row, Table, select
from sqlalchemy.orm import Session

from webapp.days.actions import planning
from webapp.days.document import shop_document
from webapp.journal.models import Entry
from webapp.planning.document import answer
from webapp.planning.entry import KINDS
from webapp.planning.export import export
from webapp.planning.schema import PRODUCT
from webapp.products.models import Product
from webapp.shops.models import Shop
from webapp.tables import metadata

LONG = {"note", "caption", "source", "data", "folded"}  # may have more than one line
OPAQUE = {"password_hash", "token_hash", "location", "sha256", "value"}  # value: of the mark
LONGEST = 5000
UNSEEN = {*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200B, 0x2060, 0xFEFF, 0xAD}
MOST = {"minutes": 60_000, "minor": 10**15, "count": 10_000, "position": 10_000}
LARGEST = 2**31 - 1
# what may be negative: temperatures, and what a meter's table adds at one
BELOW_NOTHING = {"climate_day", "climate_night", "temperature", "data", "by_temperature", "by_species"}
YEARS = range(1989, 2152)
FIGURES = Draft202012Validator(PRODUCT)


def wrong_rows(app: Flask, now: datetime) -> list[str]:
    """Return what is wrong with what is stored, one line each."""
    with app.app_context(), Session(app.extensions["sessions"].engine) as db:
        found = [
            f"{table.name} {row[0]}, {name}: {says}"
            for table in metadata.sorted_tables
            for row in db.execute(select(table))
            for name, says in _wrong(table, row)
        ]
        found += list(_strangers(db)) + list(_products(db)) + list(_entries(db))
        for shop in db.scalars(select(Shop)):
            found += list(_document(db, shop, now))
    return found


def _wrong(table: Table, row: Row[Any]) -> Iterator[tuple[str, str]]:
    for column in table.columns:
        value = row._mapping[column]
        if column.name not in OPAQUE:
            yield from ((column.name, says) for says in wrong_value(column.name, value))


def wrong_value(name: str, value: Any) -> Iterator[str]:
    """Yield what is wrong with a value, going into lists and mappings."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from wrong_value("data", key)
            yield from wrong_value(key if key in LONG else name, inner)
    elif isinstance(value, list):
        for inner in value:
            yield from wrong_value(name, inner)
    elif value is not None:
        yield from _wrong_single(name, value)


def _wrong_single(name: str, value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield from _wrong_text(name, value)
    elif isinstance(value, date):
        if value.year not in YEARS:
            yield f"{value} is no day of ours"
    elif not isinstance(value, bool):
        yield from _wrong_figure(name, value)


def _wrong_text(name: str, text: str) -> Iterator[str]:
    if unicodedata.normalize("NFC", text) != text and name != "folded":
        yield f"{text[:40]!r} is not composed"
    if any(unicodedata.category(c) in {"Cc", "Cs"} and c != "\n" for c in text):
        yield f"{text[:40]!r} has control characters"
    if any(ord(c) in UNSEEN for c in text):
        yield f"{text[:40]!r} has characters that nobody sees and that turn lines about"
    if "\n" in text and name not in LONG:
        yield f"{text[:40]!r} has several lines"
    if len(text) > LONGEST * (4 if name == "folded" else 1):
        yield f"{len(text)} characters"
    if text != text.strip():
        yield f"{text[:40]!r} has space around it"


def _wrong_figure(name: str, value: float | Decimal) -> Iterator[str]:
    if not math.isfinite(value):
        yield f"{value} is no number"
    most = next((most for part, most in MOST.items() if name.endswith(part)), LARGEST)
    if name.endswith("_nm"):
        most = 10**12
    if name in ("quantity", "unit_price"):
        most = 10**12
    if abs(value) > most or (value < 0 and name not in BELOW_NOTHING):
        yield f"{value} is out of all reason"


def _strangers(db: Session) -> Iterator[str]:
    """Rows that name a row of another shop."""
    shops: dict[str, dict[Any, Any]] = {}
    owned = [table for table in metadata.sorted_tables if "shop_id" in table.columns]
    for table in owned:
        shops[table.name] = {row.id: row.shop_id for row in db.execute(select(table)) if "id" in table.columns}
    for table in owned:
        for key in (key for key in table.foreign_keys if key.column.table.name in shops):
            for row in db.execute(select(table)):
                named = row._mapping[key.parent]
                if named is not None and shops[key.column.table.name].get(named) != row.shop_id:
                    yield f"{table.name}, {key.parent.name} {named}: belongs to another shop"


def _products(db: Session) -> Iterator[str]:
    for product in db.scalars(select(Product)):
        for figures in product.figures:
            mapping = {"name": product.name, "family": product.family, **figures.data}
            yield from (f"product {product.id}: {error.message[:200]}" for error in FIGURES.iter_errors(mapping))


def _entries(db: Session) -> Iterator[str]:
    for entry in db.scalars(select(Entry)):
        if entry.kind not in KINDS or not isinstance(entry.data, dict):
            yield f"entry {entry.id}: {entry.kind} {entry.data!r}"


def _document(db: Session, shop: Shop, now: datetime) -> Iterator[str]:
    """What the planner has against the shop: its document must be one that `benchtide plan` takes."""
    text = json.dumps(export(shop_document(db, shop.id, now).document), allow_nan=False)
    status, _, says = answer(text)
    if status:
        yield f"the document of {shop.name!r} is not taken: {says[:500]}"
    planning(db, shop.id, now)
