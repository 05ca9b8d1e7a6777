"""Rules 3 and 4, the air of a room: what each minute has and what it counts for.

Between two instants at which anything can change all minutes are alike, so sums go over such pieces; a test holds them
against sums minute by minute.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from tests.planning.checking.times import DAY, EVER, YEAR, Json, cut, ends, on_wall

HELD = 12 * 60  # minutes that a reading holds at most

Value = float | bool


@dataclass(frozen=True)
class Rule:
    """What a minute counts for, as a product or a stage of it has it."""

    rated_at: float | None = None
    doubles_per: float | None = None
    faster: bool = False
    faster_per: float | None = None
    counts_above: float | None = None

    def rate(self, warmth: float, counts: bool) -> float:
        if not counts or (self.counts_above is not None and warmth < self.counts_above):
            return 0.0
        if self.doubles_per is None or self.rated_at is None:
            return 1.0
        above = warmth - self.rated_at
        if above <= 0:
            return float(2 ** (above / self.doubles_per))
        return float(2 ** (above / (self.faster_per or self.doubles_per))) if self.faster else 1.0


class Air:
    """The air of one room, laid day by day as far as somebody looks; in the unit of the document."""

    def __init__(self, shop: Json, room: str | None, zone: ZoneInfo, first: date) -> None:
        climate = shop["climate"]
        own = next((one.get("climate") for one in shop.get("rooms", []) if one["name"] == room), None) or {}
        usual = {"day_from": "07:00", "day_to": "22:00", "humidity": 50}
        self.climate: Json = usual | climate | {key: value for key, value in own.items() if value is not None}
        self.zone, self.next = zone, first
        told = [one for one in climate.get("readings", []) if one.get("room") in (None, room)]
        told.sort(key=lambda one: cut(one["at"]) or 0)
        self.tracks = {key: track(told, key) for key in ("temperature", "humidity", "counts")}
        self.turns = sorted({at for key in self.tracks for begin, end, _ in self.tracks[key] for at in (begin, end)})
        self.laid = on_wall(first, "00:00", zone)
        self.begins: list[int] = []
        self.temperatures: list[float] = []
        self.humidities: list[float] = []
        self.counts: list[bool] = []
        self.sums: dict[Rule, list[float]] = {}

    def reach(self, at: int) -> None:
        """Lay the pieces of whole days until an instant is among them."""
        while self.laid <= at:
            begin, day = self.laid, self.next
            self.next += timedelta(days=1)
            self.laid = on_wall(self.next, "00:00", self.zone)
            dawn, dusk = (on_wall(day, self.climate[key], self.zone) for key in ("day_from", "day_to"))
            turns = self.turns[bisect_left(self.turns, begin) : bisect_left(self.turns, self.laid)]
            for one in sorted({begin, *turns, *(at for at in (dawn, dusk) if begin <= at < self.laid)}):
                is_day = dawn <= one < dusk if dawn <= dusk else one < dusk or one >= dawn
                self.lay(one, float(self.climate["day" if is_day else "night"]))

    def lay(self, at: int, usual: float) -> None:
        self.begins.append(at)
        self.temperatures.append(float(self.read("temperature", at, usual)))
        self.humidities.append(float(self.read("humidity", at, self.climate["humidity"])))
        self.counts.append(bool(self.read("counts", at, True)))

    def read(self, key: str, at: int, otherwise: Value) -> Value:
        """What a reading says of an instant, or something else where none holds."""
        found = self.tracks[key]
        index = bisect_right(found, (at, EVER)) - 1
        return found[index][2] if index >= 0 and at < found[index][1] else otherwise

    def pieces(self, begin: int, end: int) -> Iterator[int]:
        """The numbers of the pieces that have a minute of a span."""
        self.reach(end)
        if begin < end:
            yield from range(bisect_right(self.begins, begin) - 1, bisect_left(self.begins, end))

    def temperature(self, at: int) -> float:
        return self.temperatures[next(self.pieces(at, at + 1))]

    def is_under(self, limit: float, begin: int, end: int) -> bool:
        return any(self.temperatures[piece] < limit for piece in self.pieces(begin, end))

    def read_under(self, limit: float, begin: int, end: int) -> bool:
        """Whether a reading that holds in a span is under a limit."""
        return any(
            value < limit and max(since, begin) < min(until, end) for since, until, value in self.tracks["temperature"]
        )

    def reached(self, began: int, hours: float, rule: Rule) -> set[int | None]:
        """When so many equivalent hours are over: the instant, two where rounding leaves it open; None after a year."""
        if hours <= 1e-6:
            return {began}
        self.reach(began)
        piece = bisect_right(self.begins, began) - 1
        self.sum_up(rule, piece)
        sums = self.sums[rule]
        wanted = sums[piece] + (began - self.begins[piece]) * self.rate(rule, piece) + hours * 60
        while sums[-1] < wanted - 1e-6 and self.begins[len(sums) - 1] <= began + YEAR:
            self.reach(self.begins[len(sums) - 1] + 30 * DAY)
            self.sum_up(rule, len(self.begins) - 2)
        last = bisect_left(sums, wanted - 1e-6) - 1
        if last + 1 >= len(sums):
            return {None}
        lasts = self.begins[last] - began + (wanted - sums[last]) / self.rate(rule, last)
        return {began + minutes if minutes <= YEAR else None for minutes in ends(lasts)}

    def rate(self, rule: Rule, piece: int) -> float:
        return rule.rate(self.temperatures[piece], self.counts[piece])

    def sum_up(self, rule: Rule, piece: int) -> None:
        """Sums of what counts from the first piece to the beginning of each, as far as one and the next."""
        sums = self.sums.setdefault(rule, [0.0])
        if piece + 1 >= len(self.begins):
            self.reach(self.begins[-1] + 2 * DAY)
        for one in range(len(sums) - 1, piece + 1):
            sums.append(sums[-1] + (self.begins[one + 1] - self.begins[one]) * self.rate(rule, one))

    def gap(self, piece: int, unit: str) -> float:
        """How far the air is above its dew point, in degrees of the document; Magnus, coefficients of the WMO."""
        warmth, humidity = self.temperatures[piece], self.humidities[piece]
        celsius = (warmth - 32) / 1.8 if unit == "F" else warmth
        if humidity <= 0:
            return math.inf
        share = math.log(humidity / 100) + 17.62 * celsius / (243.12 + celsius)
        apart = celsius - 243.12 * share / (17.62 - share)
        return apart * 1.8 if unit == "F" else apart


def track(readings: list[Json], key: str) -> list[tuple[int, int, Value]]:
    """From when until when readings say what of one thing; each until the next one, 12 h at most."""
    unsaid = True if key == "counts" else None
    said = [(cut(one["at"]) or 0, one.get(key, unsaid)) for one in readings]
    given: list[tuple[int, Value]] = [(at, value) for at, value in said if value is not None]
    nexts = [*(at for at, _ in given[1:]), EVER]
    held = ((at, min(at + HELD, following), value) for (at, value), following in zip(given, nexts, strict=False))
    return [one for one in held if one[0] < one[1]]
