"""Faults of time in a shop document: texts that are no time, hours that cross, work that ends before it starts."""

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from typing import Any

from webapp.planning import iso
from webapp.planning.faults import Fault, Place

_Reader = Callable[[str], object]

_OPERATION_INSTANTS = ("not_before", "started", "finished", "abandoned", "wait_began")
_HAPPENED = ("started", "finished", "abandoned", "wait_began")


def wrong_times(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield every fault of time.

    Takes:   the document as read from JSON, of any shape.
    Returns: faults, in no order to rely on.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> [str(fault) for fault in wrong_times({"now": "2026-02-02T08:00:00"})]
    ['now: "2026-02-02T08:00:00" has no offset; write it like 2026-02-02T08:00:00+01:00']
    """
    top = Place((), document)
    yield from _unread(top, iso.instant, "now")
    yield from _shop(top.under("shop"))
    now = _instant(top, "now")
    for build in top.each("builds"):
        yield from _unread(build, iso.day_or_instant, "due", "not_before")
        for operation in build.each("operations"):
            yield from _operation(operation)
            yield from _order(operation, now)


def _unread(place: Place, reader: _Reader, *keys: str) -> Iterator[Fault]:
    for key in keys:
        text = place.text(key)
        if text is not None:
            try:
                reader(text)
            except iso.IsoError as error:
                yield place.fault(key, str(error))


def _shop(shop: Place) -> Iterator[Fault]:
    yield from _unread(shop, iso.zone, "time_zone")
    if shop.data.get("hours") == [] and not shop.data.get("extra"):
        yield shop.fault("hours", "the shop is never open; give it at least one opening a week")
    yield from _hours(shop)
    for maker in shop.each("makers"):
        yield from _hours(maker)
    for extra in shop.each("extra"):
        yield from _unread(extra, iso.day, "date")
        yield from _opens_late(extra)
    for closed in shop.each("closed"):
        yield from _unread(closed, iso.day, "from", "to")
        first, last = closed.text("from"), closed.text("to")
        if first and last and last < first:
            yield closed.fault("to", f"{last} is before {first}")
    for reading in shop.under("climate").each("readings"):
        yield from _unread(reading, iso.instant, "at")


def _hours(owner: Place) -> Iterator[Fault]:
    taken: list[tuple[str, int, int, int]] = []
    for opening in owner.each("hours"):
        late = list(_opens_late(opening))
        yield from late
        span = _span(opening)
        if span is None or late:
            continue
        index = int(opening.path[-1])
        for day in dict.fromkeys(opening.texts("days")):
            for other, start, end, first in taken:
                if other == day and first != index and start < span[1] and span[0] < end:
                    yield Fault(opening.path, f"overlaps the opening number {first + 1} on {day}; join the two")
            taken.append((day, *span, index))


def _span(opening: Place) -> tuple[int, int] | None:
    try:
        return iso.time_of_day(opening.text("open") or ""), iso.time_of_day(opening.text("close") or "")
    except iso.IsoError:
        return None


def _opens_late(opening: Place) -> Iterator[Fault]:
    span = _span(opening)
    if span is not None and span[0] >= span[1]:
        open_, close = opening.text("open"), opening.text("close")
        says = f"opens at {open_}, not before it closes at {close}; split it at 24:00 if it runs past midnight"
        yield Fault(opening.path, says)


def _operation(operation: Place) -> Iterator[Fault]:
    yield from _unread(operation, iso.instant, *_OPERATION_INSTANTS)
    yield from _unread(operation.under("pinned"), iso.instant, "at")
    yield from _unread(operation.under("pinned"), iso.day, "on")
    reached = operation.under("reached")
    yield from _unread(reached, iso.instant, *reached.data)


def _order(operation: Place, now: datetime | None) -> Iterator[Fault]:
    when = {key: _instant(operation, key) for key in _HAPPENED}
    started = when["started"]
    for key, moment in when.items():
        if moment is None:
            continue
        if now is not None and moment > now:
            yield operation.fault(key, "lies after now")
        if started is not None and moment < started:
            yield operation.fault(key, "is before the operation started")
    if operation.text("finished") is not None and operation.data.get("started") is None:
        yield operation.fault("finished", "finished, but never started; say when it started")


def _instant(place: Place, key: str) -> datetime | None:
    try:
        return iso.instant(place.text(key) or "")
    except iso.IsoError:
        return None
