"""From rows to what planning reckons with: the closings of days."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from webapp.planning import instants
from webapp.planning.hours import Hours

ONE_DAY = timedelta(days=1)


def closings(hours: Hours, first: datetime, last: datetime) -> list[datetime]:
    """Return the last closing of each day on which the shop is open, from the day of one moment to that of another."""
    found = (hours.last_closing(day) for day in _days(_day(first, hours.zone), _day(last, hours.zone)))
    return [instants.moment(closing) for closing in found if closing is not None]


def _day(moment: datetime, zone: ZoneInfo) -> date:
    return moment.astimezone(zone).date()


def _days(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first += ONE_DAY
