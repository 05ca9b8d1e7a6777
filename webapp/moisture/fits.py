"""How what goes into what fits over the year, by the wood, the cut and the moisture of both parts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.moisture.moving import Moves, moves_of
from webapp.sizes.shown import Shown
from webapp.trade.sizes.fits import FitError
from webapp.trade.sizes.measured import Taken
from webapp.trade.sizes.seasons import GRAIN, Side, Year, over_the_year, side
from webapp.trade.wood.moisture_house import Target


@dataclass(frozen=True)
class FitOfYear:
    """A size and its opening over the year in words; `why` where that is not known, `warns` where it will not go in."""

    name: str
    opening: str
    says: str
    why: str = ""
    warns: bool = False


@dataclass(frozen=True)
class Fits:
    """The fits of a piece, and the house that they are for."""

    rows: tuple[FitOfYear, ...]
    target: Target | None


def fits_of(db: Session, build: Build, sizes: Sequence[Shown]) -> Fits:
    """Return how the pairs among the sizes of a piece fit over the year, those whose parts are on its list."""
    by_key = {one.row.key: one for one in sizes}
    pairs = [(one, by_key[one.row.goes_into]) for one in sizes if one.row.goes_into in by_key and one.row.fit in GRAIN]
    named = {one.row.part.casefold() for pair in pairs for one in pair}
    parts = [part for part in build.parts if part.name.casefold() in named]
    if not parts:
        return Fits((), None)
    moves = {one.part.name.casefold(): one for one in moves_of(db, build, parts)}
    found = [_fit(piece, opening, moves) for piece, opening in pairs]
    return Fits(tuple(one for one in found if one is not None), next(iter(moves.values())).target)


def _fit(piece: Shown, opening: Shown, moves: Mapping[str, Moves]) -> FitOfYear | None:
    grain, own = GRAIN[piece.row.fit], moves.get(piece.row.part.casefold())
    others = moves.get(opening.row.part.casefold())
    size, open_to = piece.side, opening.side
    if own is None or (grain.opening and others is None) or size is None or open_to is None:
        return None
    name, into = piece.row.name, opening.row.name
    if own.part.length_nm == piece.row.target_nm:
        return FitOfYear(name, into, "stays as it is: it lies along the grain.")
    goes_in = _side(size, own, grain.piece)
    gap = _side(open_to, others, grain.opening) if grain.opening and others else Side(open_to.size)
    if goes_in is None or gap is None:
        lacking = own if goes_in is None else others
        return FitOfYear(name, into, "", f"{lacking.part.name}: {lacking.why}" if lacking else "")
    try:
        year = over_the_year(piece.row.fit, gap, goes_in, own.target.low, own.target.high)
    except FitError as error:
        return FitOfYear(name, into, "", str(error))
    return FitOfYear(name, into, _says(year, opening.target.unit), warns=year.damp.found.stays_out)


def _side(size: Taken, moves: Moves, across: str) -> Side | None:
    if moves.season is None:
        return None
    return side(size.size, moves.season.today, moves.species, moves.part.cut, across)


def _says(year: Year, unit: str) -> str:
    return f"{year.dry.says(unit)} in the dry season; {year.damp.says(unit)} in the damp one."
