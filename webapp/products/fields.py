"""The fields only products have."""

import re
from fractions import Fraction
from typing import Any

from webapp.trade import money
from webapp.web.fields import ReadField

TYPED = re.compile(r"(?P<number>[^a-z]+?)\s*(?P<unit>h|hours?|hrs?|min|minutes?|d|days?|weeks?)?", re.IGNORECASE)
IN_HOURS = {"": Fraction(1), "h": Fraction(1), "m": Fraction(1, 60), "d": Fraction(24), "w": Fraction(168)}
MOST = 100_000


class HoursField(ReadField):
    """Hours of a wait, typed as 24, 1.5 h, 45 min or 7 days."""

    def read(self, text: str) -> float:
        found = TYPED.fullmatch(text)
        if found is None:
            raise ValueError("Type hours, like 24, 1.5, 45 min or 7 days.")
        unit = (found["unit"] or "")[:1].lower()
        hours = Fraction(money.read_decimal(found["number"])) * IN_HOURS[unit]
        if hours > MOST:
            raise ValueError("That is more than eleven years.")
        return plain(float(hours))

    def show(self, value: Any) -> str:
        minutes = Fraction(value).limit_denominator(3600) * 60
        if minutes % 15 and minutes.denominator == 1 and float(minutes / 60) == value:
            return f"{minutes} min"
        if value >= 48 and value % 24 == 0:
            return f"{int(value // 24)} days"
        return f"{value:.6f}".rstrip("0").rstrip(".") + " h"


def plain(value: float) -> float:
    """Return a whole number as one, so that figures read and compare as they were typed."""
    return int(value) if value == int(value) else value
