"""How times, spans, humidity and names read in a sentence to the maker."""

from datetime import tzinfo

from webapp.planning.instants import DAY, moment
from webapp.planning.network import Operation


def when(instant: int, zone: tzinfo) -> str:
    """Return an instant as a maker says it.

    Takes:   minutes since 1970 UTC; the shop's zone.
    Returns: weekday, day, month and time.
    Raises:  OverflowError outside the years 1 to 9999.
    Source:  shop rule.

    >>> from datetime import UTC
    >>> when(8 * 60, UTC)
    'Thu 1 Jan 08:00'
    """
    at = moment(instant, zone)
    return f"{at:%a} {at.day} {at:%b} {at:%H:%M}"


def span(minutes: int) -> str:
    """Return a span of time in its two largest units.

    Takes:   minutes, not negative.
    Returns: days and hours, hours and minutes, or minutes.
    Raises:  nothing.
    Source:  shop rule.

    >>> span(45), span(150), span(3900), span(2880)
    ('45 min', '2 h 30 min', '2 days 17 h', '2 days')
    """
    days, hours, rest = minutes // DAY, minutes % DAY // 60, minutes % 60
    if days:
        return _two(f"{days} day{'' if days == 1 else 's'}", f"{hours} h" if hours else "")
    return _two(f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "")


def named(operation: Operation) -> str:
    """Return an operation as a sentence names it.

    Takes: the operation. Returns: its name in quotes, or its key. Raises: nothing. Source: shop rule.

    >>> named(Operation("glue", "glue-up", 30, name="Glue up the top"))
    '"Glue up the top"'
    """
    return f'"{operation.name or operation.key}"'


def percent(humidity: float) -> str:
    """Return a humidity as a maker reads it.

    Takes: % RH. Returns: a figure to a tenth, with its unit. Raises: nothing. Source: shop rule.

    >>> percent(65.5), percent(65.0)
    ('65.5 %', '65 %')
    """
    return f"{round(humidity, 1):g} %"


def people(count: int) -> str:
    """Return so many makers in words.

    Takes: a count. Returns: words. Raises: nothing. Source: shop rule.

    >>> people(1), people(3)
    ('1 maker', '3 makers')
    """
    return f"{count} maker{'' if count == 1 else 's'}"


def _two(first: str, second: str) -> str:
    return f"{first} {second}".strip()
