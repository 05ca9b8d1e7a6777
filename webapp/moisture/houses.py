"""Where a piece goes: between which moistures its wood will swing there."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.moisture.forms import MEASURED, TYPED, HouseForm
from webapp.moisture.models import House
from webapp.trade.moisture import NEAR, degrees_in
from webapp.trade.moisture_house import INDOORS, Target, ends, house, target
from webapp.web.guard import visitor

AIR = ("dry_temperature", "dry_humidity", "damp_temperature", "damp_humidity")
SAID = {MEASURED: "a house whose air was measured", TYPED: "a house by your own figures"}
NEEDED = {MEASURED: AIR, TYPED: ("low", "high")}


def house_of(db: Session, shop_id: int, build: Build | None) -> House | None:
    """Return what was said of the house of a build, or of the usual house."""
    key = build.id if build else None
    is_its = House.build_id.is_(None) if key is None else House.build_id == key
    return db.scalar(select(House).where(House.shop_id == shop_id, is_its).order_by(House.id).limit(1))


def target_of(db: Session, shop_id: int, build: Build | None) -> Target:
    """Return between which moistures wood swings where a build goes: its own house, else the usual one."""
    found = (house_of(db, shop_id, build) if build else None) or house_of(db, shop_id, None)
    if found is None:
        return INDOORS[0]
    known = target(found.place)
    return known or Target(SAID.get(found.place, found.place), found.low, found.high, None, found.source, found.place)


def near_enough(db: Session, shop_id: int) -> float:
    """Return how many points from the shop's own stock still do."""
    usual = house_of(db, shop_id, None)
    return usual.near if usual else NEAR


def fill(row: House, form: HouseForm, found: Target) -> None:
    """Put what was typed into the row, and what was made of it."""
    row.place = form.place.data
    for name in AIR:
        setattr(row, name, form[name].data if row.place == MEASURED else None)
    row.low, row.high, row.source = found.low, found.high, found.source
    if "near" in form:
        row.near = NEAR if form.near.data is None else form.near.data


def typed_target(form: HouseForm) -> Target:
    """Return between which moistures wood swings in the house that was typed; raises MoistureError for none."""
    place = form.place.data
    if place == MEASURED:
        unit = visitor().shop.temperature_unit
        dry, damp = (
            (degrees_in(form[f"{season}_temperature"].data, unit), form[f"{season}_humidity"].data)
            for season in ("dry", "damp")
        )
        return house(dry, damp, unit)
    if place == TYPED:
        return Target(place, *ends(form.low.data, form.high.data), None, "typed by the maker", TYPED)
    return target(place) or INDOORS[0]
