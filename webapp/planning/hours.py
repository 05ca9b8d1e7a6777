"""When the shop is open and who is in: open intervals out of weekly hours, closed days and extra hours.

Hours are local and intervals are UTC, so each local day is laid by itself: an evening is as long as its wall clock says
except where the clocks change inside it. A local time that occurs twice or not at all is read with fold 0.

A maker's own weekly hours replace the shop's for him; closed days and extra hours hold for all.
"""

from collections.abc import Iterable, Sequence
from datetime import date

from webapp.planning import iso
from webapp.planning.instants import DAY, local
from webapp.planning.mixes import mixes
from webapp.planning.network import Opening, Shop
from webapp.planning.openings import Openings
from webapp.planning.planned import Span

SHOP = -1  # the group of those who keep the shop's hours


class Hours:
    """Return the hours of a shop.

    Takes:   a shop, its zone one that exists.
    Returns: hours that are laid as they are asked for. Makers go by their number in the shop's list.
    Raises:  IsoError for a zone that does not exist.
    Source:  the shop document, rule 1.

    >>> hours = Hours(Shop("UTC", (Opening((3,), 8 * 60, 17 * 60),)))  # Thursdays; 1 January 1970 was one
    >>> hours.openings(None, 0, 2 * DAY), hours.next_open(DAY) == 7 * DAY + 8 * 60, hours.closing_after(500)
    (((480, 1020),), True, 1020)
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self.zone = iso.zone(shop.time_zone)
        self._closed = [(closed.first, closed.last) for closed in shop.closed]
        self._extra: dict[date, list[Span]] = {}
        for extra in shop.extra:
            self._extra.setdefault(extra.day, []).append((extra.open, extra.close))
        self._weekly = {SHOP: _by_weekday(shop.hours)}
        self.groups = tuple(self._group(number) for number in range(len(shop.makers)))
        self._laid: dict[tuple[int, ...], Openings] = {}
        self._mixes: dict[int, list[tuple[tuple[int, ...], Openings]]] = {}
        self._days: dict[tuple[int, date], list[Span]] = {}

    def of(self, groups: tuple[int, ...] = (SHOP,)) -> Openings:
        """The intervals in which all of some groups are in; without one, the shop's."""
        found = self._laid.get(groups)
        if found is None:
            found = self._laid[groups] = Openings(lambda day: self._together(groups, day), self.zone)
        return found

    def of_maker(self, maker: int | None) -> Openings:
        """The intervals in which one maker is in, or for None the shop is open."""
        return self.of((SHOP,) if maker is None else (self.groups[maker],))

    def together(self, people: Iterable[int]) -> Openings:
        """The intervals in which all of some makers are in."""
        groups = {self.groups[person] for person in people}
        return self.of(tuple(group for group in dict.fromkeys(self.groups) if group in groups))

    def mixes(self, people: int) -> list[tuple[tuple[int, ...], Openings]]:
        """Each mix of hours that so many people can have among them: who keeps them, and when all are in."""
        if people not in self._mixes:
            self._mixes[people] = [(members, self.of(groups)) for members, groups in mixes(self.groups, people)]
        return self._mixes[people]

    def anyone_in(self, instant: int) -> int | None:
        """The first minute from an instant on in which any of the makers is in."""
        opens = [self.of((group,)).next_open(instant) for group in dict.fromkeys(self.groups)]
        return min((one for one in opens if one is not None), default=None)

    def openings(self, maker: int | None, start: int, end: int) -> tuple[Span, ...]:
        """Return the open intervals inside a span.

        Takes:   the number of a maker, or None for the shop; the span as instants.
        Returns: intervals in order, cut at the ends of the span; those that touch are one.
        Raises:  nothing.
        Source:  the shop document, rule 1.

        >>> Hours(Shop("UTC", (Opening((3,), 0, 1440), Opening((4,), 0, 60)))).openings(None, 60, 3 * DAY)
        ((60, 1500),)
        """
        return tuple(self.of_maker(maker).between(start, end))

    def next_open(self, instant: int, maker: int | None = None) -> int | None:
        """Return the first open minute from an instant on.

        Takes:   an instant; the number of a maker, or None for the shop.
        Returns: an instant, or None where it does not open again in ten years.
        Raises:  nothing.
        Source:  the shop document, rule 1.

        >>> Hours(Shop("UTC", (Opening((3,), 480, 1020),))).next_open(500)
        500
        """
        return self.of_maker(maker).next_open(instant)

    def closing_after(self, instant: int, maker: int | None = None) -> int | None:
        """Return when the interval that is open at an instant, or else the next one, closes.

        Takes:   an instant; the number of a maker, or None for the shop.
        Returns: an instant, or None where it does not open again in ten years.
        Raises:  nothing.
        Source:  the shop document, rule 1.

        >>> Hours(Shop("UTC", (Opening((3,), 480, 1020),))).closing_after(100)
        1020
        """
        return self.of_maker(maker).closing(instant)

    def last_closing(self, day: date) -> int | None:
        """Return when the shop closes on a local date for the last time.

        Takes:   the date.
        Returns: an instant, the next midnight at the latest; None where it is shut all day.
        Raises:  nothing.
        Source:  the shop document, rule 9.

        >>> Hours(Shop("UTC", (Opening((3,), 480, 1020),))).last_closing(date(1970, 1, 1))
        1020
        """
        return max((end for _, end in self._day(SHOP, day)), default=None)

    def due(self, day: date) -> int:
        """Return the instant by which work due on a local date is to be done.

        Takes:   the date.
        Returns: the shop's last closing that day, or the end of the day when it is shut.
        Raises:  nothing.
        Source:  the shop document, rule 9.

        >>> Hours(Shop("UTC", (Opening((3,), 480, 1020),))).due(date(1970, 1, 2))
        2880
        """
        closing = self.last_closing(day)
        return local(day, DAY, self.zone) if closing is None else closing

    def midnight(self, day: date) -> int:
        """Return when a local date begins.

        Takes: the date. Returns: an instant. Raises: nothing. Source: IANA zone data.

        >>> Hours(Shop("UTC", ())).midnight(date(1970, 1, 2))
        1440
        """
        return local(day, 0, self.zone)

    def usual_opening(self, day: date) -> int:
        """The first hour at which the shop opens in a usual week, on a given date; midnight where it has no week."""
        opens = min((opening.open for opening in self._shop.hours), default=0)
        return local(day, opens, self.zone)

    def _group(self, maker: int) -> int:
        """Makers with the same hours are one group, numbered by the first of them."""
        own = self._shop.makers[maker].hours
        if own is None:
            return SHOP
        weekly = _by_weekday(own)
        for group, hours in self._weekly.items():
            if hours == weekly:
                return group
        self._weekly[maker] = weekly
        return maker

    def _together(self, groups: Sequence[int], day: date) -> list[Span]:
        common = self._day(groups[0], day)
        for group in groups[1:]:
            common = _common(common, self._day(group, day))
        return common

    def _day(self, group: int, day: date) -> list[Span]:
        found = self._days.get((group, day))
        if found is None:
            found = self._days[group, day] = self._rules(group, day)
        return found

    def _rules(self, group: int, day: date) -> list[Span]:
        weekly = [] if self._is_closed(day) else self._weekly[group][day.weekday()]
        spans = [
            (local(day, open_, self.zone), local(day, close, self.zone))
            for open_, close in [*weekly, *self._extra.get(day, ())]
        ]
        return _joined(spans)

    def _is_closed(self, day: date) -> bool:
        return any(first <= day <= last for first, last in self._closed)


def _by_weekday(openings: Iterable[Opening]) -> list[list[Span]]:
    week: list[list[Span]] = [[] for _ in range(7)]
    for opening in openings:
        for day in opening.days:
            week[day].append((opening.open, opening.close))
    return [sorted(day) for day in week]


def _joined(spans: Iterable[Span]) -> list[Span]:
    """Spans in order, those that touch or overlap as one; the clocks going forward may leave one empty."""
    joined: list[Span] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], end)
        elif end > start:
            joined.append((start, end))
    return joined


def _common(one: Sequence[Span], other: Sequence[Span]) -> list[Span]:
    both = [(max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other]
    return sorted(span for span in both if span[1] > span[0])
