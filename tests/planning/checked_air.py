"""The air for the checker: temperature, humidity and what counts, minute by minute as the document tells, in its unit.

Between two instants at which anything can change the air is the same, so sums go over these.
"""

import math
from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import cached_property

from tests.planning.checked_facts import Facts, Json, minute

HELD = 12 * 60
YEAR = 365 * 1440


class Air:
    """The air of one room."""

    def __init__(self, facts: Facts, room: str | None) -> None:
        self.facts = facts
        climate = facts.shop["climate"]
        own = next((one.get("climate") for one in facts.shop.get("rooms", []) if one["name"] == room), None) or {}
        usual = {"day_from": "07:00", "day_to": "22:00", "humidity": 50}
        self.climate: Json = usual | climate | {key: value for key, value in own.items() if value is not None}
        told = [one for one in climate.get("readings", []) if one.get("room") in (None, room)]
        self.readings = sorted(((minute(one["at"]) or 0, one) for one in told), key=lambda pair: pair[0])
        self.by_day: dict[str, tuple[int, int]] = {}

    def newest(self, key: str, at: int) -> Json | None:
        """The reading that holds for something at a minute."""
        given = [one for since, one in self.readings if at - HELD < since <= at and one.get(key) is not None]
        return given[-1] if given else None

    def temperature(self, at: int) -> float:
        reading = self.newest("temperature", at)
        return float(reading["temperature"] if reading else self.climate["day" if self.is_day(at) else "night"])

    def humidity(self, at: int) -> float:
        reading = self.newest("humidity", at)
        return float(reading["humidity"] if reading else self.climate["humidity"])

    def counts(self, at: int) -> bool:
        said = [one.get("counts", True) for since, one in self.readings if at - HELD < since <= at]
        return bool(next((counts for counts in reversed(said) if counts is not None), True))

    def hours_of_day(self, at: int) -> tuple[int, int]:
        day = datetime.fromtimestamp(at * 60, self.facts.zone).date()
        if day.isoformat() not in self.by_day:
            ends = [self.facts.instant(day, self.climate[key]) for key in ("day_from", "day_to")]
            self.by_day[day.isoformat()] = ends[0], ends[1]
        return self.by_day[day.isoformat()]

    def is_day(self, at: int) -> bool:
        begin, end = self.hours_of_day(at)
        return begin <= at < end if begin <= end else at >= begin or at < end

    @cached_property
    def turns(self) -> list[int]:
        return sorted({at + held for at, _ in self.readings for held in (0, HELD)})

    def pieces(self, begin: int, end: int) -> Iterator[tuple[int, int]]:
        """The span in pieces of one air each."""
        at = begin
        while at < end:
            midnight = datetime.fromtimestamp(at * 60, self.facts.zone).date() + timedelta(days=1)
            nexts = [end, self.facts.instant(midnight, "00:00"), *self.hours_of_day(at)]
            nexts += [turn for turn in self.turns if turn > at][:1]
            until = min(one for one in nexts if one > at)
            yield at, until
            at = until

    def under(self, limit: float, begin: int, end: int) -> bool:
        return any(self.temperature(at) < limit for at, _ in self.pieces(begin, end))

    def read_under(self, limit: float, begin: int, end: int) -> bool:
        held = ((at, self.newest("temperature", at)) for at, _ in self.pieces(begin, end))
        return any(reading is not None and reading["temperature"] < limit for _, reading in held)

    def rate(self, product: Json, doubles_per: float | None, floor: float | None, at: int) -> float:
        """What a minute counts for."""
        warmth = self.temperature(at)
        if not self.counts(at) or (floor is not None and warmth < floor):
            return 0.0
        if doubles_per is None or product.get("rated_at") is None:
            return 1.0
        above = warmth - product["rated_at"]
        if above > 0 and product.get("faster_when_warm"):
            return float(2 ** (above / (product.get("faster_per") or doubles_per)))
        return float(2 ** (min(above, 0) / doubles_per))

    def reached(
        self, began: int, hours: float, product: Json, doubles_per: float | None, floor: float | None
    ) -> int | None:
        """When a wait is over; None after a year."""
        wanted = hours * 60
        if wanted <= 1e-6:
            return began
        for begin, end in self.pieces(began, began + YEAR + 1):
            rate = self.rate(product, doubles_per, floor, begin)
            if (end - begin) * rate >= wanted - 1e-6:
                found = begin + math.ceil(round(wanted / rate, 3) - 1 / 60)
                return found if found <= began + YEAR else None
            wanted -= (end - begin) * rate
        return None

    def gap(self, at: int) -> float:
        """How far the air is above its dew point, in the document's unit; Magnus with the coefficients of the WMO."""
        is_f = self.facts.document.get("temperature_unit") == "F"
        celsius = (self.temperature(at) - 32) / 1.8 if is_f else self.temperature(at)
        share = math.log(self.humidity(at) / 100) + 17.62 * celsius / (243.12 + celsius)
        apart = celsius - 243.12 * share / (17.62 - share)
        return apart * 1.8 if is_f else apart
