"""Instants: whole minutes since 1970 in UTC, which is how all of planning counts time, and their way in and out.

Elapsed time is the difference of two instants and nothing else. Subtracting two wall clocks of one zone would lose or
win an hour where the clocks change.
"""

from datetime import UTC, date, datetime, timedelta, tzinfo

DAY = 24 * 60
WEEK = 7 * DAY

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MINUTE = timedelta(minutes=1)


def cut(moment: datetime) -> int:
    """Return an instant, its seconds cut off.

    Takes:   an aware datetime.
    Returns: minutes since 1970 UTC, rounded down.
    Raises:  TypeError for a datetime without a zone.
    Source:  the shop document: started, wait_began, abandoned, a reading's `at`.

    >>> cut(datetime.fromisoformat("1970-01-01T01:01:59+01:00"))
    1
    """
    return (moment - _EPOCH) // _MINUTE


def up(moment: datetime) -> int:
    """Return an instant, rounded up to the whole minute.

    Takes:   an aware datetime.
    Returns: minutes since 1970 UTC.
    Raises:  TypeError for a datetime without a zone.
    Source:  the shop document: now, finished, not_before.

    >>> up(datetime.fromisoformat("1970-01-01T00:01:01+00:00"))
    2
    """
    return -((_EPOCH - moment) // _MINUTE)


def moment(instant: int, zone: tzinfo = UTC) -> datetime:
    """Return an instant as an aware datetime.

    Takes:   minutes since 1970 UTC; the zone to show it in.
    Returns: the datetime in that zone.
    Raises:  OverflowError outside the years 1 to 9999.
    Source:  arithmetic.

    >>> moment(61).isoformat()
    '1970-01-01T01:01:00+00:00'
    """
    return (_EPOCH + instant * _MINUTE).astimezone(zone)


def local(day: date, minutes: int, zone: tzinfo) -> int:
    """Return the instant of a local time of day.

    Takes:   the local date; minutes after its midnight, 1440 being the next midnight; the zone.
    Returns: minutes since 1970 UTC. A local time that occurs twice or not at all is read with fold 0.
    Raises:  OverflowError outside the years 1 to 9999.
    Source:  the shop document, rule 1.

    >>> local(date(1970, 1, 1), 1440, UTC)
    1440
    """
    days, rest = divmod(minutes, DAY)
    wall = datetime(day.year, day.month, day.day, rest // 60, rest % 60, tzinfo=zone)
    return cut(wall + timedelta(days=days))
