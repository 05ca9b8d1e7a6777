"""Where a piece goes: between which moistures its wood will swing there."""

from dataclasses import dataclass

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.moisture.forms import MEASURED, TYPED, HouseForm
from webapp.moisture.models import House
from webapp.trade.wood.moisture import NEAR, degrees_in
from webapp.trade.wood.moisture_house import INDOORS, Target, ends, house, target
from webapp.web.guard import visitor

AIR = ("dry_temperature", "dry_humidity", "damp_temperature", "damp_humidity")
SAID = {MEASURED: "a house whose air was measured", TYPED: "a house by your own figures"}
NEEDED = {MEASURED: AIR, TYPED: ("low", "high")}


@dataclass(frozen=True)
class Houses:
    """What was said of the house asked for, a piece's or without one the usual, and of the usual one."""

    own: House | None
    usual: House | None

    @property
    def target(self) -> Target:
        """Between which moistures wood swings there."""
        found = self.own or self.usual
        if found is None:
            return INDOORS[0]
        said = SAID.get(found.place, found.place)
        return target(found.place) or Target(said, found.low, found.high, None, found.source, found.place)

    @property
    def near(self) -> float:
        """How many points from the shop's own stock still do."""
        return self.usual.near if self.usual else NEAR


def houses_of(db: Session, shop_id: int, build: Build | None) -> Houses:
    """Return what was said of the house of a piece, and of the usual one."""
    key = build.id if build else None
    wanted = select(House).where(House.shop_id == shop_id, or_(House.build_id.is_(None), House.build_id == key))
    of = {row.build_id: row for row in db.scalars(wanted.order_by(House.id.desc()))}
    return Houses(of.get(key), of.get(None))


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
