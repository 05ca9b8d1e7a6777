"""How times, spans and money look on screen: a time with its day when not today, a number always with its unit."""

from datetime import date, datetime, timedelta

from flask import Flask

from webapp.planning import instants
from webapp.trade import lengths, money
from webapp.trade.air.degrees import degrees
from webapp.web.clock import now
from webapp.web.guard import visitor

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January February March April May June July August September October November December".split()  # noqa: SIM905
)
NEAR = timedelta(days=6)


def init_app(app: Flask) -> None:
    for function in FILTERS:
        app.jinja_env.filters[function.__name__] = function


def local(moment: datetime) -> datetime:
    """Return a moment on the wall clock of the shop."""
    return moment.astimezone(visitor().zone)


def _date(value: date | datetime) -> date:
    return local(value).date() if isinstance(value, datetime) else value


def _today() -> date:
    return local(now()).date()


def clock_time(moment: datetime) -> str:
    return f"{local(moment):%H:%M}"


def stamp(moment: datetime) -> str:
    """Return a moment as scripts and time elements read it."""
    return moment.isoformat(timespec="seconds")


def day(value: date | datetime) -> str:
    """Return a day as it is said in the shop: Mon 9 near by, Mon 9 March in another month or week, with its year."""
    on, here = _date(value), _today()
    text = f"{DAYS[on.weekday()]} {on.day}"
    if abs(on - here) <= NEAR and on.month == here.month:
        return text
    text += f" {MONTHS[on.month - 1][:3] if on.year != here.year else MONTHS[on.month - 1]}"
    return text if on.year == here.year else f"{text} {on.year}"


def long_day(value: date | datetime) -> str:
    on = _date(value)
    text = f"{LONG_DAYS[on.weekday()]} {on.day} {MONTHS[on.month - 1]}"
    return text if on.year == _today().year else f"{text} {on.year}"


def when(moment: datetime) -> str:
    """Return the wall clock time, with its day when that is not today."""
    here = local(moment)
    if here.date() == _today():
        return clock_time(here)
    return f"{day(here)}, {clock_time(here)}"


def span(minutes: int | float | timedelta) -> str:
    """Return a length of time in words: 40 min, 1 h 35 min, 3 days 4 h."""
    whole = max(0, round(minutes.total_seconds() / 60 if isinstance(minutes, timedelta) else minutes))
    if whole < 60:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    if hours < 48:
        return f"{hours} h {rest} min" if rest else f"{hours} h"
    days, hours = divmod(hours, 24)
    return f"{days} days {hours} h" if hours else f"{days} days"


def hours(count: float) -> str:
    """Return hours as they are said: 30 min, 24 h, 7 days."""
    return span(count * 60)


def work_span(minutes: int | float) -> str:
    """Return a length of work in words: in hours however many, since a day of work is no 24 hours."""
    whole = max(0, round(minutes))
    hours, rest = divmod(whole, 60)
    return span(whole) if hours < 48 else f"{hours} h {rest} min" if rest else f"{hours} h"


def clock_span(minutes: int | float) -> str:
    """Return hours worked as 7:05."""
    hours, rest = divmod(max(0, round(minutes)), 60)
    return f"{hours}:{rest:02d}"


def until(moment: datetime) -> str:
    """Return how far off a moment is: in 42 min, 40 min ago."""
    minutes = (moment - now()).total_seconds() / 60
    return f"in {span(minutes)}" if minutes >= 0 else f"{span(-minutes)} ago"


def since(moment: datetime) -> int:
    """Return how many whole minutes ago a moment was."""
    return int((now() - moment).total_seconds() // 60)


def amount(minor: int, currency: str | None = None) -> str:
    return money.show_money(minor, currency or visitor().shop.currency)


def size(nanometres: int, unit: str | None = None) -> str:
    """Return a length taken on wood. Not called length: that counts in templates."""
    return lengths.show(nanometres, unit or visitor().shop.length_unit)


def temperature(celsius: float, unit: str | None = None) -> str:
    return degrees(celsius, unit or visitor().shop.temperature_unit)


def capital(text: str) -> str:
    """Return a text with a capital at its beginning, the rest as it is."""
    return text[:1].upper() + text[1:]


def plural(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def said(instant: int) -> str:
    """Return a planner's instant (minutes since 1970) as `when` says it."""
    return when(instants.moment(instant))


def said_clock(instant: int) -> str:
    return clock_time(instants.moment(instant))


FILTERS = (
    local, when, day, long_day, clock_time, span, hours, work_span, clock_span, until, since, amount, size, temperature,
    stamp, plural, capital, said, said_clock,
)  # fmt: skip
