"""Fields that read what makers type: spans, moments, money, lengths, temperatures. Rules are the trade floor's."""

import re
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import wtforms

from webapp.trade import lengths, money
from webapp.web.guard import visitor
from webapp.web.text import tidy_line

SPAN = re.compile(
    r"(?:(?P<hours>\d+(?:[.,]\d+)?)\s*h(?:ours?|rs?)?)?\s*(?:(?P<minutes>\d+)\s*(?:m|min|minutes?)?)?", re.I
)
CLOCK = re.compile(r"(?P<hours>\d{1,2})(?::|\.|h)(?P<minutes>\d{2})")
LONGEST = 1000 * 60
FIRST_YEAR, LAST_YEAR = 1990, 2150  # well inside what a shop document can say, and the plan of ten years after it


class ReadField(wtforms.StringField):
    """A field whose text is read into a value; what was typed stays when it cannot be read."""

    data: Any  # what was read, none where nothing was typed

    def read(self, text: str) -> Any:
        raise NotImplementedError

    def show(self, value: Any) -> str:
        return str(value)

    def process_formdata(self, valuelist: list[Any]) -> None:
        if not valuelist:
            return
        text = str(tidy_line(str(valuelist[0])))
        if len(text) > 100:
            raise ValueError("That is too long.")
        self.data = self.read(text) if text else None

    def _value(self) -> str:
        if self.raw_data:
            return str(self.raw_data[0])
        return "" if self.data is None else self.show(self.data)


class SpanField(ReadField):
    """Whole minutes, typed as 90, 1:30, 1 h 30, 1.5 h, 45 min."""

    def read(self, text: str) -> int:
        clock = CLOCK.fullmatch(text)
        found = clock or SPAN.fullmatch(text)
        if not text.isascii() or found is None or not any(found.groups()):
            raise ValueError("Type a time like 45, 1:30 or 1 h 30 min.")
        hours = Decimal((found["hours"] or "0").replace(",", "."))
        minutes = round(hours * 60) + int(found["minutes"] or 0)
        if minutes > LONGEST:
            raise ValueError("At most 1000 hours.")
        return minutes

    def show(self, value: Any) -> str:
        hours, minutes = divmod(int(value), 60)
        if not hours:
            return f"{minutes} min"
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"


class TimeOfDayField(ReadField):
    """Minutes after midnight, typed as 8, 08:00, 17.30; 24:00 is the end of the day."""

    def read(self, text: str) -> int:
        found = CLOCK.fullmatch(text)
        hours, minutes = (int(found["hours"]), int(found["minutes"])) if found else (_whole(text), 0)
        if hours is None or minutes > 59 or hours * 60 + minutes > 24 * 60:
            raise ValueError("Type a time of day like 8:00 or 17:30.")
        return hours * 60 + minutes

    def show(self, value: Any) -> str:
        return f"{value // 60:02d}:{value % 60:02d}"


def _whole(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 2 else None


class WholeField(ReadField):
    """A whole number between two others."""

    def __init__(self, *args: Any, least: int = 0, most: int = 10_000, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.least, self.most = least, most

    def read(self, text: str) -> int:
        value = int(text) if text.isascii() and text.isdigit() and len(text) <= 9 else None
        if value is None or not self.least <= value <= self.most:
            raise ValueError(f"Type a whole number from {self.least} to {self.most}.")
        return value


class HumidityField(ReadField):
    """Relative humidity in percent, typed as 45 or 45 %."""

    def read(self, text: str) -> float:
        value = _figure(text.rstrip("% "), "Type a humidity like 45 or 52.5.")
        if value > 100:
            raise ValueError("From 0 to 100 %, please.")
        return value

    def show(self, value: Any) -> str:
        return f"{value:.1f}".removesuffix(".0")


def _figure(text: str, says: str, *, negative: bool = False) -> float:
    try:
        return float(money.read_decimal(text, negative=negative))
    except ValueError:
        raise ValueError(says) from None


def _check_year(day: date) -> None:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError("That year cannot be right.")


class DayField(ReadField):
    """A day, as the browser's date field sends it."""

    widget = wtforms.widgets.DateInput()

    def read(self, text: str) -> date:
        try:
            day = date.fromisoformat(text)
        except ValueError:
            raise ValueError("Type a day like 2026-02-03.") from None
        _check_year(day)
        return day


class MomentField(ReadField):
    """A moment in the shop's zone, as the browser's datetime-local sends it; kept as UTC."""

    widget = wtforms.widgets.DateTimeLocalInput()

    def read(self, text: str) -> datetime:
        try:
            wall = datetime.fromisoformat(text.replace(" ", "T"))
        except ValueError:
            raise ValueError("Type a day and time like 2026-02-03 14:30.") from None
        if wall.tzinfo is None:
            wall = wall.replace(tzinfo=visitor().shop.zone)
        _check_year(wall)
        return wall.astimezone(UTC)

    def show(self, value: Any) -> str:
        return f"{value.astimezone(visitor().shop.zone):%Y-%m-%dT%H:%M}"


class MoneyField(ReadField):
    """Whole minor units of the shop's currency."""

    def read(self, text: str) -> int:
        return money.read_money(text, visitor().shop.currency)

    def show(self, value: Any) -> str:
        return f"{Decimal(value).scaleb(-money.exponent(visitor().shop.currency)):f}"


class ExactField(ReadField):
    """A quantity or a unit price, exact to four places."""

    def read(self, text: str) -> Decimal:
        return money.read_decimal(text)

    def show(self, value: Any) -> str:
        return f"{Decimal(value).normalize():f}"


class LengthField(ReadField):
    """A length typed as makers type it; `data` keeps nanometres and what was typed."""

    def __init__(self, *args: Any, nominal: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.nominal = nominal

    def read(self, text: str) -> lengths.Length:
        return lengths.read(text, visitor().shop.length_unit, nominal=self.nominal)

    def show(self, value: Any) -> str:
        return str(value.entered)


class TemperatureField(ReadField):
    """°C, typed in the shop's unit. `difference` is for steps such as 'doubles per'."""

    def __init__(self, *args: Any, difference: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.difference = difference

    def read(self, text: str) -> float:
        typed = text.replace("°", "").upper().strip()
        unit = typed[-1] if typed[-1:] in {"C", "F"} else visitor().shop.temperature_unit
        value = _figure(typed.rstrip("CF "), f"Type degrees like 58 or 14.5 °{unit}.", negative=not self.difference)
        if unit == "F":
            value = value * 5 / 9 if self.difference else (value - 32) * 5 / 9
        if not -60 <= value <= 300:
            raise ValueError(f"That cannot be right. Type degrees like 58 or 14.5 °{unit}.")
        return round(value, 4)

    def show(self, value: Any) -> str:
        if visitor().shop.temperature_unit == "F":
            value = value * 9 / 5 if self.difference else value * 9 / 5 + 32
        return f"{value:.2f}".rstrip("0").rstrip(".")
