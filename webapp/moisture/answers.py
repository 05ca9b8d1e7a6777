"""What a page says of readings: whether the boards may be milled, and when to look again."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.moisture.models import Measured
from webapp.trade.wood.moisture import NEAR, Milling, Resawing, milling, resawing
from webapp.trade.wood.moisture_house import Target, off_target
from webapp.trade.wood.moisture_pace import look_again
from webapp.web.filters import local


@dataclass(frozen=True)
class Answer:
    """May these boards be milled: the reckoning, the day to read again where they may not, what resawing would do."""

    milling: Milling
    again: date | None
    resawing: Resawing | None

    @property
    def apart(self) -> str:
        """How far off in words: 2.6 points over."""
        return _off(self.milling.apart)


def answer(rows: Sequence[Measured], stock: float | None, within: float = NEAR) -> Answer | None:
    """Return what readings, oldest first, say against the shop's own stock; nothing where either was never read."""
    if not rows or stock is None:
        return None
    last = rows[-1]
    found = milling(round(last.counts_as, 2), stock, within)
    again = None if found.may else local(last.at).date() + timedelta(days=_days(rows, stock, within))
    dries = len(rows) > 1 and rows[0].counts_as > last.counts_as
    resaw = resawing(rows[0].counts_as, last.counts_as, stock, within) if dries else None
    return Answer(found, again, resaw if resaw and not resaw.may else None)


def _days(rows: Sequence[Measured], stock: float, within: float) -> int:
    last, before = rows[-1], rows[-2] if len(rows) > 1 else None
    apart = (last.at - before.at).total_seconds() / 86_400 if before else 0
    return look_again(last.counts_as, stock, (before.counts_as, apart) if before else None, within)


def against(moisture: float, target: Target) -> str:
    """Return how a moisture stands to where the piece goes."""
    off = off_target(round(moisture, 2), target)
    if not off:
        return f"Within {target.says}, what wood has there over the year."
    return f"{_off(round(off, 1))} {target.says}, what wood has there over the year."


def _off(points: float) -> str:
    return f"{abs(points):g} {'point' if abs(points) == 1 else 'points'} {'over' if points >= 0 else 'under'}"
