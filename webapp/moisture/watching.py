"""Watch points: between which widths one should stay over the year, what was measured, when to look again."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload

from webapp.builds.models import Build, Part
from webapp.moisture.models import Look, Watch
from webapp.moisture.moving import Ground, grounds_of
from webapp.moisture.revisions import standing
from webapp.trade.wood.movement import MovementError, seasonal
from webapp.web.filters import local

SEASON = timedelta(days=91)
AFTER = ("delivered", "aftercare")  # a piece that is still looked after


@dataclass(frozen=True)
class Seen:
    """One look, and whether what it measured lies within what was to be expected."""

    look: Look
    is_within: bool | None


@dataclass(frozen=True)
class Watched:
    """A watch point: the widths to be expected, what was seen, and the day of the next look."""

    watch: Watch
    expected: tuple[int, int] | None
    why: str
    seen: tuple[Seen, ...]
    due: date | None

    @property
    def last(self) -> Seen | None:
        return self.seen[-1] if self.seen else None


def watched_of(db: Session, build: Build, watches: Sequence[Watch]) -> list[Watched]:
    """Return the watch points of a piece with what is expected of each."""
    parts = {watch.part.id: watch.part for watch in watches}
    grounds = {one.part.id: one for one in grounds_of(db, build, parts.values())} if parts else {}
    return [_watched(watch, build, grounds[watch.part_id]) for watch in watches]


def _watched(watch: Watch, build: Build, ground: Ground) -> Watched:
    expected, why = _expected(watch, ground)
    looks = standing(watch.looks)
    seen = tuple(Seen(look, _is_within(look, expected)) for look in looks)
    return Watched(watch, expected, why, seen, due_on(watch, build, looks))


def _expected(watch: Watch, ground: Ground) -> tuple[tuple[int, int] | None, str]:
    if watch.width_nm is None or watch.moisture is None:
        return None, "Without a width and a moisture to begin with nothing is expected."
    if ground.lacks:
        return None, ground.lacks
    try:
        year = seasonal(watch.width_nm, ground.species, ground.part.cut, ground.season_from(watch.moisture))
    except MovementError as error:
        return None, str(error)
    assert year
    return (year.narrowest, year.widest), ""


def _is_within(look: Look, expected: tuple[int, int] | None) -> bool | None:
    if expected is None or look.width_nm is None:
        return None
    return expected[0] <= look.width_nm <= expected[1]


def due_on(watch: Watch, build: Build, looks: Sequence[Look]) -> date | None:
    """Return the day of the next look: a season after the last one, or after delivery."""
    if watch.ended_on or build.delivered_on is None or build.status not in AFTER:
        return None
    begun = max([build.delivered_on, *(local(look.at).date() for look in looks)])
    return begun + SEASON


def of_build(db: Session, build: Build) -> list[Watch]:
    wanted = select(Watch).join(Part).where(Part.build_id == build.id).order_by(Watch.ended_on.is_not(None), Watch.id)
    return list(db.scalars(wanted.options(joinedload(Watch.part), selectinload(Watch.looks))))


def due_now(db: Session, shop_id: int, today: date) -> list[Watch]:
    """Return the watch points of a shop that are to be looked at, the oldest delivery first."""
    wanted = select(Watch).join(Part).join(Build)
    open_ones = wanted.where(Watch.shop_id == shop_id, Watch.ended_on.is_(None), Build.status.in_(AFTER))
    long_ago = open_ones.where(Build.delivered_on <= today - SEASON).order_by(Build.delivered_on, Watch.id)
    found = db.scalars(long_ago.options(joinedload(Watch.part).joinedload(Part.build), selectinload(Watch.looks)))
    return [
        one for one in found if (due := due_on(one, one.part.build, standing(one.looks))) is not None and due <= today
    ]
