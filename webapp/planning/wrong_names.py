"""Faults of names in a shop document: used twice, or naming what is not there; and figures at odds with each other."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import Any

from webapp.planning.faults import Fault, Place

_Stages = Mapping[str, set[str]]  # of each product, by its name


def wrong_names(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield every fault of names and figures.

    Takes:   the document as read from JSON, of any shape.
    Returns: faults, in no order to rely on.
    Raises:  nothing.
    Source:  the shop document, "Refused".

    >>> [str(fault) for fault in wrong_names({"products": [{"name": "oil"}, {"name": "oil"}]})]
    ['products[1].name: "oil" stands here twice; each name is used once']
    """
    top = Place((), document)
    shop = top.under("shop")
    for listed in ("makers", "equipment", "rooms"):
        yield from _twice(shop.each(listed), "name")
    for reading in shop.under("climate").each("readings"):
        yield from _unknown(reading, "room", _names(shop.each("rooms"), "name"), "room")
    yield from _twice(top.each("products"), "name")
    for product in top.each("products"):
        yield from _product(product, top)
    yield from _twice(top.each("builds"), "name")
    for build in top.each("builds"):
        yield from _build(build, top)


def stages_of(operation: Place, products: _Stages) -> set[str]:
    """The names of the stages an operation has: its product's and its own."""
    return products.get(operation.text("product") or "", set()) | _names(operation.each("stages"), "name")


def _names(places: Iterable[Place], key: str) -> set[str]:
    return {name for place in places if (name := place.text(key)) is not None}


def _twice(places: Iterable[Place], key: str) -> Iterator[Fault]:
    seen: set[str] = set()
    for place in places:
        name = place.text(key)
        if name is not None and name in seen:
            yield place.fault(key, f'"{name}" stands here twice; each {key} is used once')
        seen.add(name or "")


def _unknown(place: Place, key: str, known: Iterable[str], what: str) -> Iterator[Fault]:
    name = place.text(key)
    if name is not None and name not in known:
        yield place.fault(key, f'no {what} "{name}"')


def _product(product: Place, top: Place) -> Iterator[Fault]:
    stages = _names(product.each("stages"), "name")
    yield from _twice(product.each("stages"), "name")
    yield from _twice(product.each("tend"), "key")
    yield from _unknown(product, "dust_free", stages, "stage of this product called")
    yield from _windows(product, "recoat")
    layers = _names(top.each("products"), "name") | _names(top.each("products"), "family")
    over = product.under("recoat_over")
    for layer in over.data:
        if layer not in layers:
            yield over.fault(layer, f'no product or family "{layer}"')
        yield from _windows(over, layer)


def _windows(owner: Place, key: str) -> Iterator[Fault]:
    spans = [(w.number("from_hours"), w.number("to_hours", float("inf"))) for w in owner.each(key)]
    if any(start >= end for start, end in spans):
        yield owner.fault(key, "a window ends before it begins; to_hours is to be more than from_hours")
    if any(later[0] < earlier[1] for earlier, later in pairwise(spans)):
        yield owner.fault(key, "the windows overlap or are out of order; put them in order of time")


def _build(build: Place, top: Place) -> Iterator[Fault]:
    products = {product.text("name") or "": _names(product.each("stages"), "name") for product in top.each("products")}
    yield from _twice(build.each("operations"), "key")
    stages = {operation.text("key") or "": stages_of(operation, products) for operation in build.each("operations")}
    for done_at in build.each("done_at"):
        yield from _stage_of_another(done_at, stages)
    yield from _taken_keys(build, top)
    for operation in build.each("operations"):
        yield from _operation(operation, top, stages)
        yield from _figures(operation)


def _stage_of_another(link: Place, stages: _Stages) -> Iterator[Fault]:
    other = link.text("operation")
    yield from _unknown(link, "operation", stages, "operation of this build called")
    if other is not None and other in stages:
        yield from _unknown(link, "stage", stages[other], f'stage on operation "{other}" called')


def _taken_keys(build: Place, top: Place) -> Iterator[Fault]:
    """Keys that the plan will use for inserted work."""
    tends = {product.text("name"): _names(product.each("tend"), "key") for product in top.each("products")}
    taken = {
        f"{operation.text('key')}.{key}"
        for operation in build.each("operations")
        for key in tends.get(operation.text("product"), set())
    }
    for operation in build.each("operations"):
        if operation.text("key") in taken:
            yield operation.fault("key", f'"{operation.text("key")}" is kept for tending; use another key')


def _operation(operation: Place, top: Place, stages: _Stages) -> Iterator[Fault]:
    own = stages.get(operation.text("key") or "", set())
    shop = top.under("shop")
    yield from _unknown(operation, "room", _names(shop.each("rooms"), "name"), "room")
    yield from _unknown(operation, "product", _names(top.each("products"), "name"), "product")
    yield from _twice(operation.each("stages"), "name")
    yield from _twice(operation.each("equipment"), "name")
    for hold in operation.each("equipment"):
        yield from _unknown(hold, "name", _names(shop.each("equipment"), "name"), "equipment")
        yield from _unknown(hold, "until", own, "stage of this operation called")
    for link in operation.each("after"):
        yield from _stage_of_another(link, stages)
    for key in ("over", "again_for"):
        yield from _unknown(operation, key, stages, "operation of this build called")
    reached = operation.under("reached")
    for stage in reached.data:
        if stage not in own:
            yield reached.fault(stage, f'no stage "{stage}" on this operation')


def _figures(operation: Place) -> Iterator[Fault]:
    count, done = operation.number("count", 1), operation.number("done")
    if done > count:
        yield operation.fault("done", f"{done:g} are done, but there are only {count:g}")
    minutes = operation.under("minutes")
    low, likely, high = (minutes.number(key) for key in ("low", "likely", "high"))
    if minutes.data and not low <= likely <= high:
        yield operation.fault("minutes", f"low {low:g}, likely {likely:g} and high {high:g} are not in order")
