"""Rule 1, the open intervals: of the shop, of each maker, of makers together."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from tests.planning.checking.times import DAY, Json, Span, on_wall

WEEK = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
SEARCHED = 400  # days that are looked at for the next opening


class Line:
    """Intervals in order, those that touch as one, laid day by day as far as somebody looks."""

    def __init__(self, of_day: Callable[[date], list[Span]], first: date, zone: ZoneInfo) -> None:
        self.of_day, self.next, self.zone = of_day, first, zone
        self.laid = on_wall(first, "00:00", zone)
        self.begins: list[int] = []
        self.ends: list[int] = []

    def reach(self, at: int) -> None:
        while self.laid <= at + DAY:
            for begin, end in self.of_day(self.next):
                if self.ends and begin <= self.ends[-1]:
                    self.ends[-1] = max(self.ends[-1], end)
                else:
                    self.begins.append(begin)
                    self.ends.append(end)
            self.next += timedelta(days=1)
            self.laid = on_wall(self.next, "00:00", self.zone)

    def around(self, at: int) -> Span | None:
        """The interval that an instant lies in, as far as it is laid."""
        self.reach(at)
        index = bisect_right(self.begins, at) - 1
        return (self.begins[index], self.ends[index]) if index >= 0 and at < self.ends[index] else None

    def covers(self, begin: int, end: int) -> bool:
        self.reach(end)
        found = self.around(begin)
        return found is not None and end <= found[1]

    def between(self, begin: int, end: int) -> list[Span]:
        """The intervals of a span, whole, that have a minute of it."""
        self.reach(end)
        first, last = bisect_right(self.ends, begin), bisect_left(self.begins, end)
        return list(zip(self.begins[first:last], self.ends[first:last], strict=True))

    def minutes(self, begin: int, end: int) -> int:
        return sum(min(close, end) - max(open_, begin) for open_, close in self.between(begin, end))

    def next_in(self, at: int) -> int | None:
        """The first open minute from an instant on; None where there is none in a year."""
        for day in range(SEARCHED):
            self.reach(at + day * DAY)
            index = bisect_right(self.ends, at)
            if index < len(self.ends):
                return max(at, self.begins[index])
        return None

    def last_before(self, at: int) -> int | None:
        """The last open minute before an instant."""
        self.reach(at)
        index = bisect_left(self.begins, at) - 1
        return None if index < 0 else min(self.ends[index], at) - 1

    def run(self, at: int, minutes: int) -> list[Span] | None:
        """So many open minutes from an instant on; None where it is shut then, or opens too seldom."""
        if self.around(at) is None:
            return None
        spans: list[Span] = []
        begin: int | None = at
        while minutes > 0 and begin is not None:
            found = self.around(begin)
            end = begin if found is None else min(found[1], begin + minutes)
            spans.append((begin, end))
            minutes -= end - begin
            begin = self.next_in(end) if minutes else None
        return spans if minutes == 0 else None


class Hours:
    """The hours of a shop. People without names keep the shop's."""

    def __init__(self, shop: Json, zone: ZoneInfo, first: date) -> None:
        self.shop, self.zone, self.first = shop, zone, first
        makers = shop.get("makers", 1)
        self.named: list[str] | None = None if isinstance(makers, int) else [one["name"] for one in makers]
        self.count: int = makers if isinstance(makers, int) else len(makers)
        given = [] if isinstance(makers, int) else makers
        self.own: dict[str, list[Json]] = {one["name"]: one["hours"] for one in given if one.get("hours") is not None}
        self.lines: dict[frozenset[str | None], Line] = {}
        self.days: dict[tuple[str | None, date], list[Span]] = {}
        kept = {self.kept(name) for name in self.named or []} or {None}
        self.anyone = Line(lambda day: sorted(s for who in kept for s in self.day(who, day)), first, zone)

    def kept(self, who: str) -> str | None:
        """Whose weekly hours a maker keeps: his own, or the shop's."""
        return who if who in self.own else None

    def of(self, people: Iterable[str]) -> Line:
        """When all of some people are in; without people, when the shop is open."""
        return self.of_kept(frozenset(self.kept(who) for who in people))

    def of_kept(self, kept: frozenset[str | None]) -> Line:
        kept = kept or frozenset([None])
        if kept not in self.lines:
            self.lines[kept] = Line(lambda day: self.together(kept, day), self.first, self.zone)
        return self.lines[kept]

    def together(self, kept: frozenset[str | None], day: date) -> list[Span]:
        first, *others = kept
        common = self.day(first, day)
        for who in others:
            cross = ((max(a, c), min(b, d)) for a, b in common for c, d in self.day(who, day))
            common = sorted(span for span in cross if span[0] < span[1])
        return common

    def day(self, who: str | None, day: date) -> list[Span]:
        """The intervals of a local day, joined: weekly hours unless it is closed, and extra hours for all."""
        if (who, day) not in self.days:
            closed, on = self.shop.get("closed", []), day.isoformat()
            shut = any(one["from"] <= on <= one.get("to", one["from"]) for one in closed)
            weekly = self.shop["hours"] if who is None else self.own[who]
            rows = [] if shut else [row for row in weekly if WEEK[day.weekday()] in row["days"]]
            rows = rows + [row for row in self.shop.get("extra", []) if row["date"] == on]
            spans = [tuple(on_wall(day, row[key], self.zone) for key in ("open", "close")) for row in rows]
            joined: list[Span] = []
            for begin, end in sorted(spans):
                if joined and begin <= joined[-1][1]:
                    joined[-1] = joined[-1][0], max(end, joined[-1][1])
                elif begin < end:
                    joined.append((begin, end))
            self.days[who, day] = joined
        return self.days[who, day]
