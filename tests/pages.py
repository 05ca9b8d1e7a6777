"""The pages of the app, out of its route map: whatever is registered is timed and counted, nothing can be forgotten."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from flask import Flask
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.routing import Rule

from tests.years import Years
from webapp.builds.models import Operation, Part, Size
from webapp.costs.models import Payment
from webapp.journal.models import Entry
from webapp.moisture.models import Meter, Watch
from webapp.people.models import SignIn
from webapp.photos.models import Photo
from webapp.products.models import Product, Tin
from webapp.shops.models import Closed, Equipment, Extra, Rate, Reading, Room, Sensor
from webapp.stock.models import Material

# files to be fetched, not pages to be looked at
NOT_PAGES = {"static", "photos.picture", "exports.bare", "exports.whole", "exports.costs", "exports.hours"}
# a search fills its page at a tenth of the data too: longer pages are no slower ones
# what stands in the address behind the path, where a page is nothing without it; more than one are several pages
ASKED = {
    "photos.shift": ("ids={photo_id}",),
    "lookback.compare": ("build={build_id}&build={other_id}",),
    "builds.index": ("", "q=client", "q=nowhere", "put-away=1", "put-away=1&page=2"),
    "journal.index": ("", "words=ebene", "words=nowhere", "page=2"),
    "journal.of_build": ("", "words=ebene", "page=2"),
    "photos.index": ("", "page=2", "build={build_id}", "operation={operation_id}", "build={build_id}&pick="),
    "lookback.index": ("", "q=ebene", "q=nowhere", "page=2"),
    "stock.index": ("", "shelf=", "build={build_id}", "page=2"),
    "products.index": ("", "retired="),
    "products.show": ("", "temperature=58&humidity=85"),
    "days.show": ("", "days=28"),
}


@dataclass(frozen=True)
class Page:
    """A page: whose view it is, and where it stands."""

    endpoint: str
    address: str
    shown: str  # the address without the ids of this database

    @property
    def name(self) -> str:
        return f"{self.endpoint} {self.shown}"


def pages(app: Flask, db: Session, years: Years) -> Iterator[Page]:
    """Yield every page of the app once; a page of a piece twice, of one in the making and of a past one."""
    opened, past = _ids(db, years, years.opened, years.past), _ids(db, years, years.past, years.opened)
    for rule in sorted(app.url_map.iter_rules(), key=lambda one: (one.endpoint, one.rule)):
        if "GET" in (rule.methods or set()) and rule.endpoint not in NOT_PAGES:
            yield from _of_rule(app, rule, {"in the making": opened, "past": past})


def _of_rule(app: Flask, rule: Rule, ids: Mapping[str, Mapping[str, Any]]) -> Iterator[Page]:
    adapter = app.url_map.bind("localhost")
    seen = set()
    for kind, values in ids.items():
        path = adapter.build(rule.endpoint, {name: _value(rule, name, values) for name in rule.arguments})
        for asked in ASKED.get(rule.endpoint, ("",)):
            address = f"{path}?{asked.format(**values)}" if asked else path
            if address not in seen:
                seen.add(address)
                is_of_piece = bool(rule.arguments - {"key", "product_id", "tin_id"}) or "{" in asked
                shown = f"{rule.rule}?{asked}" if asked else rule.rule
                yield Page(rule.endpoint, address, f"{shown} ({kind})" if is_of_piece else shown)


def _value(rule: Rule, name: str, values: Mapping[str, Any]) -> Any:
    found = values.get(rule.endpoint) or values.get(name)
    if found is None:
        found = next((value for key, value in values.items() if f"{rule.endpoint}.".startswith(f"{key}.")), None)
    assert found is not None, f"{rule.rule}: say in tests/pages.py which {name} it is to show"
    return found


def _ids(db: Session, years: Years, build_id: int, other_id: int) -> dict[str, Any]:
    """Return the id of one row of everything that has an address, by its name there or the place it stands."""

    def first(column: Any, *conditions: Any) -> Any:
        return db.scalars(select(column).where(*conditions).order_by(column).limit(1)).one()

    def last(column: Any, *conditions: Any) -> Any:
        return db.scalars(select(column).where(*conditions).order_by(column.desc()).limit(1)).one()

    shop_id, done = years.shop.id, Entry.build_id == build_id
    operation_id = first(Operation.id, Operation.build_id == build_id)
    return {
        "build_id": build_id,
        "other_id": other_id,
        "operation_id": operation_id,
        "size_id": first(Size.id, Size.build_id == build_id),
        "part_id": first(Part.id, Part.build_id == build_id),
        "number": 1,
        "kind": "slot",
        "moisture.meters": first(Meter.id),
        "moisture.watches": first(Watch.id),
        "photo_id": first(Photo.id, Photo.operation_id == operation_id),
        "material_id": first(Material.id, Material.build_id == build_id),
        "payment_id": first(Payment.id, Payment.build_id == build_id),
        "product_id": first(Product.id, Product.name == "yellow PVA"),
        "tin_id": first(Tin.id),
        "entry_id": first(Entry.id, done, Entry.kind == "noted"),
        "journal.shop_time.stopped": "forgotten",
        "rate_id": last(Rate.id, Rate.maker_id == years.owner.id),
        "people.sign_ins": last(SignIn.id),
        "shops.enter": shop_id,
        "shops.closed": last(Closed.id),
        "shops.extra": last(Extra.id),
        "shops.equipment": first(Equipment.id),
        "shops.rooms": first(Room.id),
        "shops.readings": last(Reading.id),
        "shops.sensors": first(Sensor.id),
        **dict.fromkeys(("shops.makers", "shops.maker_hours", "shops.rates", "shops.accounts"), years.owner.id),
    }
