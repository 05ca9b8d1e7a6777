"""The time sheet of the shop: who worked how long on what, in blocks of days that are worked out once.

A block is kept (see `kept.py`) under the lines of its days and of the days beside it, all corrections of the shop, and
the hours of the shop in it. The last days are worked out each time: there clocks may run.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Select, bindparam, func, or_, select
from sqlalchemy.orm import Session

from webapp.journal.bridge import closings
from webapp.journal.kept import kept
from webapp.journal.models import Entry
from webapp.journal.reading import SHOP, Told, asked, bounds, mended, told, within
from webapp.planning import instants, network
from webapp.planning.entry import BEGINS
from webapp.planning.hours import Hours
from webapp.planning.labour import labour
from webapp.planning.spans import ENDS_FOR_ALL
from webapp.planning.stretches import Stretch
from webapp.planning.timesheet import Line, hours
from webapp.shops.document import shop_hours
from webapp.shops.models import Shop

DAYS = 28  # of a block
MARGIN = timedelta(days=2)  # clocks that run into a block or out of it
CLOCK_KINDS = (*BEGINS, "paused", "worked", *ENDS_FOR_ALL)

SPANS = (
    select(Entry.build_id, func.min(Entry.at), func.max(Entry.at))
    .where(Entry.build_id.in_(bindparam("builds")))
    .group_by(Entry.build_id)
)

Sheet = Mapping[int | None, tuple[Line, ...]]  # by build


@dataclass(frozen=True)
class Block:
    """Some days in a row: the first one, and the one after the last."""

    first: date
    end: date

    def around(self, zone: ZoneInfo) -> tuple[datetime, datetime]:
        """Return from when until when lines are looked at."""
        begin, end = (instants.moment(instants.local(day, 0, zone)) for day in (self.first, self.end))
        return begin - MARGIN, end + MARGIN


@dataclass(frozen=True)
class Made:
    """A block and all that it was made of."""

    block: Block
    shop: tuple[int, network.Shop]
    lines: Told
    corrections: Told


def lines_of(db: Session, shop: Shop, builds: Collection[int], now: datetime) -> dict[int, list[Line]]:
    """Return the time sheet of these builds. Everybody's clocks of that time are looked at, since they may overlap."""
    spans = [(first, last) for _, first, last in db.execute(SPANS, {"builds": list(builds)})]
    found: dict[int, list[Line]] = {build: [] for build in builds}
    settled = now.astimezone(shop.zone).date() - MARGIN
    for sheet in _sheets(db, shop, _blocks(spans, shop.zone, settled), settled, now):
        for build in sheet.keys() & found.keys():
            if build is not None:
                found[build] += sheet[build]
    return found


def _blocks(spans: Iterable[tuple[datetime, datetime]], zone: ZoneInfo, settled: date) -> list[Block]:
    """Return the blocks in which these spans lie, cut where the last days begin."""
    numbers = {
        number
        for first, last in spans
        for number in range(_number(first.astimezone(zone).date()), _number(last.astimezone(zone).date()) + 1)
    }
    found = []
    for number in sorted(numbers):
        first, end = date.fromordinal(number * DAYS), date.fromordinal((number + 1) * DAYS)
        cut = min(max(settled, first), end)
        found += [block for block in (Block(first, cut), Block(cut, end)) if block.first < block.end]
    return found


def _number(day: date) -> int:
    return day.toordinal() // DAYS


def _sheets(db: Session, shop: Shop, blocks: list[Block], settled: date, now: datetime) -> Iterable[Sheet]:
    if not blocks:
        return []
    open_ = shop_hours(shop, blocks[0].around(shop.zone)[0])
    made = _made(db, shop, [block for block in blocks if block.end <= settled], open_)

    def make(lacking: list[Made]) -> Mapping[Made, tuple[Sheet, bool]]:
        found = _worked_out(db, shop, [one.block for one in lacking], open_, now)
        return {one: (sheet, True) for one, sheet in zip(lacking, found, strict=True)}

    old = kept(db, made, make).values()
    return [*old, *_worked_out(db, shop, [block for block in blocks if block.end > settled], open_, now)]


def _made(db: Session, shop: Shop, blocks: list[Block], open_: network.Shop) -> list[Made]:
    """Return what settled blocks are made of: one query."""
    if not blocks:
        return []
    corrections, *lines = told(db, shop.id, *(block.around(shop.zone) for block in blocks))
    return [
        Made(block, (shop.id, _hours_in(open_, block)), found, corrections)
        for block, found in zip(blocks, lines, strict=True)
    ]


def _hours_in(open_: network.Shop, block: Block) -> network.Shop:
    begin, end = block.first - MARGIN, block.end + MARGIN
    closed = tuple(one for one in open_.closed if one.last >= begin and one.first <= end)
    return replace(open_, closed=closed, extra=tuple(one for one in open_.extra if begin <= one.day <= end))


def _worked_out(db: Session, shop: Shop, blocks: list[Block], open_: network.Shop, now: datetime) -> list[Sheet]:
    """Return the sheets of blocks out of the journal: one query."""
    if not blocks:
        return []
    zone, hours_ = shop.zone, Hours(open_)
    windows = [block.around(zone) for block in blocks]
    entries = asked(db, _clocks(len(windows)), shop=shop.id, **bounds(windows))
    shut = {closing for window in windows for closing in closings(hours_, *window)}
    booked = labour(entries, now, shut, zone).stretches
    return [_sheet(zone, (one for one in booked if block.first <= _day(one, zone) < block.end)) for block in blocks]


@lru_cache
def _clocks(windows: int) -> Select[Any]:
    """Return the query for what clocks did in so many windows."""
    return mended(Entry.shop_id == SHOP, Entry.kind.in_(CLOCK_KINDS), or_(*map(within, range(windows))))


def _day(stretch: Stretch, zone: ZoneInfo) -> date:
    return (stretch.end if stretch.remembered else stretch.start).astimezone(zone).date()


def _sheet(zone: ZoneInfo, stretches: Iterable[Stretch]) -> Sheet:
    found: dict[int | None, list[Line]] = {}
    for line in hours(stretches, zone):
        found.setdefault(line.build, []).append(line)
    return {build: tuple(lines) for build, lines in found.items()}
