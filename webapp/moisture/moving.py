"""What a part does over the year in the house it goes to, and the room it needs, at the moisture it has today."""

from collections.abc import Iterable, Mapping, Sequence
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
class Ground:
    """What a part moves by, whatever moisture it has: its wood, and between which moistures wood swings there."""

    part: Part
    species: Species | None
    target: Target

    @property
    def lacks(self) -> str:
        """What must be said of the part before any movement is known; nothing where all is said."""
        if not self.part.wood:
            return "Say which wood it is: without it no movement is known."
        if self.species is None:
            return why_unknown(self.part.wood)
        return "" if self.part.cut else "Say how it is sawn: without it no movement is known."

    def season_from(self, moisture: float) -> Season:
        """Return the year that begins at a moisture; raises MovementError for one that nothing is known of."""
        return Season(round(self.target.low, 2), moisture, round(self.target.high, 2))


@dataclass(frozen=True)
class Today:
    """The moisture a part has today, and where that is known from."""

    moisture: float
    says: str


@dataclass(frozen=True)
class Moves(Ground):
    """What a part does over the year. Where that is not known, `why` says what is missing, and no number stands."""

    today: Today
    season: Season | None
    year: Seasonal | None
    why: str


def moves_of(db: Session, build: Build, parts: Iterable[Part]) -> list[Moves]:
    """Return what parts of a piece do over the year."""
    grounds = grounds_of(db, build, parts)
    now = _today(db, build, grounds) if grounds else {}
    return [_moves(ground, now[ground.part.id]) for ground in grounds]


def grounds_of(db: Session, build: Build, parts: Iterable[Part]) -> list[Ground]:
    """Return what parts of a piece move by; two queries."""
    target = houses_of(db, build.shop_id, build).target
    own = {wood.name.casefold(): wood for wood in db.scalars(select(OwnWood).where(OwnWood.shop_id == build.shop_id))}
    return [Ground(part, _species(part.wood, own), target) for part in parts]


def _moves(ground: Ground, today: Today) -> Moves:
    part, season, year, why = ground.part, None, None, ground.lacks
    try:
        season = None if why else ground.season_from(round(today.moisture, 2))
    except MovementError as error:
        why = str(error)
    if season and part.width_nm:
        year = seasonal(part.width_nm, ground.species, part.cut, season)
    return Moves(part, ground.species, ground.target, today, season, year, why)


def _species(wood: str, own: Mapping[str, OwnWood]) -> Species | None:
    row = own.get(wood.casefold())
    return typed(row.name, Decimal(row.radial), Decimal(row.tangential), row.source) if row else find(wood)


def _today(db: Session, build: Build, grounds: Sequence[Ground]) -> dict[int, Today]:
    """The newest reading of each part, else of the boards bought for the piece, else of the shop, else the middle."""
    ids = [ground.part.id for ground in grounds]
    read = readings(db, PartMoisture, PartMoisture.part_id, ids)
    found = {key: _read(rows[-1], "") for key, rows in read.items()}
    if len(found) < len(set(ids)):
        other = _of_boards(db, build) or _of_stock(db) or _middle(grounds[0].target)
        found = dict.fromkeys(ids, other) | found
    return found


def _read(row: Any, of: str) -> Today:
    return Today(row.counts_as, f"{row.counts_as:g} %{of}")


def _of_boards(db: Session, build: Build) -> Today | None:
    ids = list(db.scalars(select(Material.id).where(Material.build_id == build.id)))
    rows = readings(db, MaterialMoisture, MaterialMoisture.material_id, ids)
    newest = max((read[-1] for read in rows.values()), key=lambda row: row.at, default=None)
    return _read(newest, " as the boards bought for it") if newest else None


def _of_stock(db: Session) -> Today | None:
    row = stock_now(db)
    return _read(row, " as the shop’s own stock") if row else None


def _middle(target: Target) -> Today:
    middle = round(target.average or (target.low + target.high) / 2, 1)
    return Today(middle, f"not read yet: reckoned as if it had {middle:g} %")
