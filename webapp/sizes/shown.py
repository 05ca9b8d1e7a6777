"""Sizes as they are shown: what each measured, time after time, how that stands to its target, and what fits."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from sqlalchemy.orm import Session

from webapp.builds.models import Build, Size
from webapp.journal.models import Entry as Row
from webapp.journal.reading import read_mended
from webapp.planning.corrections import effective
from webapp.planning.entry import Entry
from webapp.trade import lengths
from webapp.trade.lengths import Length
from webapp.trade.sizes.fits import Fit, FitError
from webapp.trade.sizes.measured import Judged, Taken, fit_of, fit_says, judge, taken

SIZED = "sized"
UNIT = "in"  # what is kept always says its unit: this one is never meant


@dataclass(frozen=True)
class Actual:
    """One measuring: when, what, and how that stands to the target."""

    at: datetime
    length: Length
    judged: Judged
    note: str


@dataclass(frozen=True)
class Pair:
    """A size and its opening: the fit in words, what to do about it, and by what it was judged."""

    opening: str
    kind: str
    says: str
    advice: str
    by: str
    stays_out: bool = False


@dataclass(frozen=True)
class Shown:
    """A size with what it measured, the last first."""

    row: Size
    target: Length
    tolerance: Length | None
    actuals: tuple[Actual, ...]
    pair: Pair | None = None

    @property
    def last(self) -> Actual | None:
        return self.actuals[0] if self.actuals else None

    @property
    def side(self) -> Taken | None:
        """As it goes into a fit: as it measured last, else as it should be."""
        return taken(self.target, self.last.length if self.last else None, self.tolerance)

    @cached_property
    def is_off(self) -> bool:
        return self.last is not None and self.last.judged.within is False


def shown(db: Session, build: Build) -> list[Shown]:
    """Return the sizes of a build in their order; two queries."""
    if not build.sizes:
        return []
    told = _told(db, build)
    found = {size.key: _shown(size, told.get(size.key, ())) for size in build.sizes}
    return [_paired(one, found.get(one.row.goes_into)) for one in found.values()]


def _told(db: Session, build: Build) -> Mapping[str, Sequence[Entry]]:
    """What the journal says of each size, by its key."""
    found: defaultdict[str, list[Entry]] = defaultdict(list)
    for entry in effective(read_mended(db, build.shop_id, Row.build_id == build.id, Row.kind == SIZED)):
        found[entry.word("size") or ""].append(entry)
    return found


def was_measured(db: Session, size: Size) -> bool:
    """Return whether the journal tells of a size."""
    return bool(_told(db, size.build).get(size.key))


def _shown(size: Size, entries: Iterable[Entry]) -> Shown:
    target = lengths.read(size.target_typed, UNIT, nominal=True)
    tolerance = lengths.read(size.tolerance_typed, UNIT) if size.tolerance_typed else None
    actuals = [_actual(entry, target, tolerance) for entry in entries]
    return Shown(size, target, tolerance, tuple(reversed(actuals)))


def _actual(entry: Entry, target: Length, tolerance: Length | None) -> Actual:
    length = lengths.read(entry.word("actual") or "", UNIT)
    return Actual(entry.at, length, judge(target, length, tolerance), entry.word("note") or "")


def _paired(piece: Shown, opening: Shown | None) -> Shown:
    if opening is None or not piece.row.fit:
        return piece
    return Shown(piece.row, piece.target, piece.tolerance, piece.actuals, _pair(piece, opening))


def _pair(piece: Shown, opening: Shown) -> Pair:
    kind, name = piece.row.fit, opening.row.name
    gap, goes_in = opening.side, piece.side
    if gap is None or goes_in is None:
        return Pair(name, kind, "measure it first", "A thickness as bought says nothing of what it measures.", "")
    try:
        tightest, loosest = fit_of(kind, gap, goes_in)
    except FitError as error:
        return Pair(name, kind, str(error), "", "")
    says, out = fit_says(tightest, loosest, opening.target.unit), loosest.found.stays_out
    return Pair(name, kind, says, _advice(tightest, loosest), _by(piece, opening), out)


def _advice(tightest: Fit, loosest: Fit) -> str:
    """What to do, where the tolerances leave no doubt about the class."""
    if tightest.found == loosest.found:
        return tightest.found.advice
    return "Measure both: the tolerances leave it open."


def _by(piece: Shown, opening: Shown) -> str:
    measured = [one.last is not None for one in (piece, opening)]
    if all(measured):
        return "as measured"
    return "as they should be" if not any(measured) else "one as measured, one as it should be"
