"""An operation said in words, for its line on the page of a piece."""

from collections.abc import Iterator

from webapp.builds.models import Hold, Link, Operation
from webapp.builds.waiting import stage_names
from webapp.web.filters import day, plural, span, when, work_span


def facts(operation: Operation, with_room: bool) -> list[str]:
    """Return what there is to know before the work: kind, time, batch, product, equipment, place."""
    return [operation.kind, _hands_on(operation), *_more(operation, with_room)]


def _hands_on(operation: Operation) -> str:
    likely = work_span(operation.minutes)
    if operation.low is None and operation.high is None:
        return likely
    low, high = operation.low or operation.minutes, operation.high or operation.minutes
    return f"{likely} ({work_span(low)} to {work_span(high)})"


def _more(operation: Operation, with_room: bool) -> Iterator[str]:
    if operation.count > 1:
        yield f"{operation.count} alike"
    if operation.makers > 1:
        yield f"{operation.makers} people"
    if operation.product:
        yield operation.product.name
    yield from (_held(hold) for hold in operation.holds)
    if with_room and operation.room:
        yield f"in {operation.room.name}"


def _held(hold: Hold) -> str:
    until = f" until {hold.until}" if hold.until else ""
    return f"{hold.count} {hold.equipment.name}{until}"


def waits(operation: Operation) -> list[str]:
    """Return what must be before the operation can begin."""
    return [*(_waits_for(link) for link in operation.after), *_other_waits(operation)]


def _waits_for(link: Link) -> str:
    known = link.stage in stage_names(link.waits_for)
    text = f"{link.waits_for.name}: {link.stage}" if known else link.waits_for.name
    if link.lag_minutes:
        text += f", and another {span(link.lag_minutes)}"
    return text if link.within_minutes is None else f"{text}, begun within {span(link.within_minutes)}"


def _other_waits(operation: Operation) -> Iterator[str]:
    if operation.over:
        yield f"{operation.over.name}, as the layer below"
    if operation.not_before:
        yield f"not before {when(operation.not_before)}"
    if operation.pinned_at:
        yield f"fixed to {when(operation.pinned_at)}"
    if operation.pinned_on:
        yield f"fixed to {day(operation.pinned_on)}"


def own_waits(operation: Operation) -> list[str]:
    """Return the waits and the tending that are the operation's own."""
    waits = [f"{stage['name']} after {span(stage['hours'] * 60)}" for stage in operation.stages or ()]
    return waits + [f"{tend['key']} after {span(tend['at_minutes'])}" for tend in operation.tend or ()]


def total(operations: list[Operation]) -> str:
    """Return how many operations these are and how long hands are at work in all of them."""
    return f"{plural(len(operations), 'operation')}, {work_span(sum(one.minutes for one in operations))}"
