"""Instants as minutes since 1970 in UTC."""

import math
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

Json = dict[str, Any]
Span = tuple[int, int]

DAY = 1440
YEAR = 365 * DAY
EVER = 1 << 60


def cut(text: str | None) -> int | None:
    """An instant without its seconds."""
    return None if text is None else math.floor(datetime.fromisoformat(text).timestamp() / 60)


def up(text: str) -> int:
    """An instant, rounded up to the minute."""
    return math.ceil(datetime.fromisoformat(text).timestamp() / 60)


def on_wall(day: date, clock: str, zone: ZoneInfo) -> int:
    """When the clock on the wall shows a time, 24:00 too; fold 0 where it does so twice or not at all."""
    hour, minutes = map(int, clock.split(":"))
    wall = datetime(day.year, day.month, day.day, hour % 24, minutes, tzinfo=zone, fold=0)
    return math.floor((wall + timedelta(days=hour // 24)).timestamp() / 60)


def local_day(at: int, zone: ZoneInfo) -> date:
    """The date at an instant."""
    return datetime.fromtimestamp(at * 60, zone).date()


def day_or_instant(text: str, zone: ZoneInfo) -> int:
    """An instant rounded up, or the midnight that begins a date."""
    return up(text) if "T" in text else on_wall(date.fromisoformat(text), "00:00", zone)


def ends(minutes: float) -> set[int]:
    """Whole minutes that a wait may take: rounded up, an excess under a second dropped; two where that is in doubt."""
    return {math.ceil(minutes - 1 / 60 - slack) for slack in (1e-5, -1e-5)}


def overlaps(one: Span, other: Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]
