"""Times as the shop document writes them: ISO 8601 instants with an offset, local dates, times of day."""

import re
from datetime import date, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from webapp.planning.schema import CLOSING, DATE

FIRST_YEAR, LAST_YEAR = 1970, 2199


class IsoError(ValueError):
    """A text that is no time; says what it should be."""


def instant(text: str) -> datetime:
    """Return an instant.

    Takes:   ISO 8601 with an offset, in the years 1970 to 2199.
    Returns: an aware datetime.
    Raises:  IsoError when it is no time, has no offset or lies outside these years.
    Source:  ISO 8601; the years: shop rule.

    >>> instant("2026-02-02T08:00:00+01:00").utcoffset()
    datetime.timedelta(seconds=3600)
    """
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise IsoError(f'"{text}" is not a time; write it like 2026-02-02T08:00:00+01:00') from None
    if moment.tzinfo is None:
        raise IsoError(f'"{text}" has no offset; write it like 2026-02-02T08:00:00+01:00')
    _check_year(moment.year)
    return moment


def day(text: str) -> date:
    """Return a local date.

    Takes:   year-month-day, in the years 1970 to 2199.
    Returns: the date.
    Raises:  IsoError when there is no such day or it lies outside these years.
    Source:  ISO 8601.

    >>> day("2026-02-28")
    datetime.date(2026, 2, 28)
    """
    try:
        found = date.fromisoformat(text) if re.match(DATE, text) else None
    except ValueError:
        found = None
    if found is None:
        raise IsoError(f'"{text}" is not a date; write it like 2026-02-27')
    _check_year(found.year)
    return found


def day_or_instant(text: str) -> date | datetime:
    """Return a local date, or an instant where a time of day is given.

    Takes:   either form.
    Returns: a date or an aware datetime.
    Raises:  IsoError as the two do.
    Source:  the shop document, a build's `due` and `not_before`.

    >>> day_or_instant("2026-02-28")
    datetime.date(2026, 2, 28)
    """
    return day(text) if re.match(DATE, text) else instant(text)


def time_of_day(text: str) -> int:
    """Return a time of day in minutes after midnight.

    Takes:   HH:MM, up to 24:00.
    Returns: 0 to 1440.
    Raises:  IsoError when it is none.
    Source:  ISO 8601; 24:00 as the end of a day.

    >>> time_of_day("24:00"), time_of_day("07:30")
    (1440, 450)
    """
    if not re.match(CLOSING, text):
        raise IsoError(f'"{text}" is not a time of day; write it like 08:00')
    return int(text[:2]) * 60 + int(text[3:])


def zone(name: str) -> ZoneInfo:
    """Return a time zone.

    Takes:   its IANA name.
    Returns: the zone.
    Raises:  IsoError when there is none of that name.
    Source:  IANA time zone data.

    >>> zone("Europe/Oslo").key
    'Europe/Oslo'
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise IsoError(f'there is no time zone "{name}"; write it like Europe/Oslo') from None


def _check_year(year: int) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise IsoError(f"the year {year} is out of range ({FIRST_YEAR} to {LAST_YEAR})")
