"""What a part does over the year in the house it goes to, and the room it needs, at the moisture it has today."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Part
from webapp.moisture.houses import houses_of
from webapp.moisture.models import MaterialMoisture, OwnWood, PartMoisture
from webapp.moisture.overview import readings
from webapp.moisture.subjects import stock_now
from webapp.stock.models import Material
from webapp.trade.wood.moisture_house import Target
from webapp.trade.wood.movement import MovementError, Season, Seasonal, seasonal
from webapp.trade.wood.species import Species, find, typed, why_unknown


@dataclass(frozen=True)
class Today:
    """The moisture a part has today, and where that is known from."""

    moisture: float
    says: str


@dataclass(frozen=True)
class Moves:
    """What a part does over the year. Where that is not known, `why` says what is missing, and no number stands."""

    part: Part
    species: Species | None
    target: Target
    today: Today
    season: Season | None
    year: Seasonal | None
    why: str


def moves_of(db: Session, build: Build, parts: Iterable[Part]) -> list[Moves]:
    """Return what parts of a piece do over the year."""
    several = list(parts)
    target = houses_of(db, build.shop_id, build).target
    own = {wood.name.casefold(): wood for wood in db.scalars(select(OwnWood).where(OwnWood.shop_id == build.shop_id))}
    now = _today(db, build, several, target)
    return [_moves(part, _species(part.wood, own), target, now[part.id]) for part in several]


def _moves(part: Part, species: Species | None, target: Target, today: Today) -> Moves:
    season, why = _season(target, today)
    why = _lacks(part, species) or why
    year = None
    if not why and part.width_nm:
        year = seasonal(part.width_nm, species, part.cut, season) if season else None
    return Moves(part, species, target, today, None if why else season, year, why)


def _lacks(part: Part, species: Species | None) -> str:
    if not part.wood:
        return "Say which wood it is: without it no movement is known."
    if species is None:
        return why_unknown(part.wood)
    return "" if part.cut else "Say how it is sawn: without it no movement is known."


def _season(target: Target, today: Today) -> tuple[Season | None, str]:
    try:
        return Season(round(target.low, 2), round(today.moisture, 2), round(target.high, 2)), ""
    except MovementError as error:
        return None, str(error)


def _species(wood: str, own: Mapping[str, OwnWood]) -> Species | None:
    row = own.get(wood.casefold())
    return typed(row.name, Decimal(row.radial), Decimal(row.tangential), row.source) if row else find(wood)


def _today(db: Session, build: Build, parts: list[Part], target: Target) -> dict[int, Today]:
    """The newest reading of each part, else of the boards bought for the piece, else of the shop, else the middle."""
    read = readings(db, PartMoisture, PartMoisture.part_id, [part.id for part in parts])
    other = _of_boards(db, build) or _of_stock(db, build.shop_id) or _middle(target)
    return {part.id: _read(read[part.id][-1], "") if part.id in read else other for part in parts}


def _read(row: Any, of: str) -> Today:
    return Today(row.counts_as, f"{row.counts_as:g} %{of}")


def _of_boards(db: Session, build: Build) -> Today | None:
    ids = list(db.scalars(select(Material.id).where(Material.build_id == build.id)))
    rows = readings(db, MaterialMoisture, MaterialMoisture.material_id, ids)
    newest = max((read[-1] for read in rows.values()), key=lambda row: row.at, default=None)
    return _read(newest, " as the boards bought for it") if newest else None


def _of_stock(db: Session, shop_id: int) -> Today | None:
    row = stock_now(db, shop_id)
    return _read(row, " as the shop’s own stock") if row else None


def _middle(target: Target) -> Today:
    middle = round(target.average or (target.low + target.high) / 2, 1)
    return Today(middle, f"not read yet: reckoned as if it had {middle:g} %")
